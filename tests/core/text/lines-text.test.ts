import { expect, test } from 'vitest'
import { mostCorruptLines } from '../../../src/core/model/result.ts'
import { countText, damagedText, linesText, rangeText } from '../../../src/core/text/lines-text.ts'

const span = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, i) => from + i)

test.each([
  [[17], 'line 17'],
  [[4, 9], 'lines 4 and 9'],
  [[4, 9, 12], 'lines 4, 9 and 12'],
  [span(4, 9), 'lines 4 to 9 (6 lines)'],
  [[2, ...span(4, 300_003)], 'lines 2 and 4 to 300 003 (300 001 lines)'],
  [[1, 3, 5, 7, 9, 11, 13], 'lines 1, 3, 5, 7, 9 and 2 more'],
])('lines that follow each other are told as one range: case %#', (lines, text) => {
  expect(linesText(lines)).toBe(text)
})

test('a list that is full may leave lines out, and says so', () => {
  const lines = span(4, mostCorruptLines + 3)
  expect(linesText(lines)).toBe('lines 4 to 2 000 003 (2 000 000 lines or more)')
  expect(damagedText(lines)).toBe('2 000 000 damaged lines or more')
  expect(damagedText(lines.slice(1))).toBe('1 999 999 damaged lines')
})

test('a number is parted into groups of three from five digits on', () => {
  expect([0, 9999, 10_000, 1_002_463].map(countText)).toEqual(['0', '9999', '10 000', '1 002 463'])
})

test('a range of one line is that line', () => {
  expect(rangeText({ from: 56, to: 56 })).toBe('line 56')
  expect(rangeText({ from: 56, to: 57 })).toBe('lines 56 to 57')
  expect(damagedText([3])).toBe('1 damaged line')
})
