// What text from outside may do to a terminal: nothing.
import { expect, test } from 'vitest'
import { escapeControls } from '../../../src/core/text/escape-controls.ts'

test('control characters are shown as JSON escapes, letters of any script stay', () => {
  expect(escapeControls('\u001b[2J\u0007\r\n\u009b31m\u007f')).toBe('\\u001b[2J\\u0007\\u000d\\u000a\\u009b31m\\u007f')
  expect(escapeControls('±0.12 Ω, "été"')).toBe('±0.12 Ω, "été"')
  expect(escapeControls('')).toBe('')
})

test('a mark that turns the writing direction is shown too', () => {
  expect(escapeControls('a\u202eb')).toBe('a\\u202eb')
})

test('JSON text stays the same JSON value', () => {
  const json = JSON.stringify({ text: 'a\u009b\u202eb' })
  expect(JSON.parse(escapeControls(json))).toEqual({ text: 'a\u009b\u202eb' })
})
