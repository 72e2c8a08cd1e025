// Shares as percentages and back.
import { expect, test } from 'vitest'
import { percentText, shareOfPercent } from '../../../src/core/text/percent-text.ts'

test.each([
  [0.005, '0.5 %'],
  [0.0025, '0.25 %'],
  [0.007, '0.7 %'],
  [0, '0 %'],
  [1, '100 %'],
  [1e-6, '0.0001 %'],
])('%s is %s, and is read as the same number again', (share, text) => {
  expect(percentText(share)).toBe(text)
  expect(shareOfPercent(text)).toBe(share)
})

test('every hundredth of a percent is the same number when it is read again', () => {
  for (let i = 0; i <= 10_000; i++) expect(shareOfPercent(percentText(i / 10_000))).toBe(i / 10_000)
})

test.each([
  ['.5%', 0.005],
  [' 2. % ', 0.02],
  ['0.25', null],
  ['%', null],
  ['0,5 %', null],
  ['1e2 %', null],
])('"%s" is read as %s', (text, share) => {
  expect(shareOfPercent(text)).toBe(share)
})
