// Text from outside never carries control characters to a terminal.
import { expect, test } from 'vitest'
import { printable } from '../../../src/core/text/printable.ts'

test('control characters, escape sequences and characters beyond ASCII become dots', () => {
  expect(printable('a\x1b[2Jb\x00\x7f\xff\u202e\u{1f600}')).toBe('a.[2Jb......')
})

test('a long text is cut to the length asked for and shows that it was cut', () => {
  expect(printable('x'.repeat(80))).toBe('x'.repeat(80))
  expect(printable('x'.repeat(81))).toBe(`${'x'.repeat(77)}...`)
  expect(printable('abcdefgh', 6)).toBe('abc...')
  expect(printable('')).toBe('')
})
