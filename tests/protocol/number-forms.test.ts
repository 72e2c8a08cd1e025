// Number texts against the examples of IEEE 488.2 and the special values of SCPI (tests/reference/number-forms.json).
import { describe, expect, test } from 'vitest'
import { digitSize, parseNumber, scpiValue } from '../../src/protocol/number-forms.ts'
import published from '../reference/number-forms.json' with { type: 'json' }

const [specials, forms] = published
if (specials === undefined || forms === undefined) throw new Error('two published entries are needed')

const meanings: Record<string, number> = {
  '+infinity (over-range)': Number.POSITIVE_INFINITY,
  '-infinity': Number.NEGATIVE_INFINITY,
  'not a number': Number.NaN,
  'not a number (sign ignored)': Number.NaN,
}

describe('published number forms', () => {
  test.each(['NR1', 'NR2', 'NR3', 'NRf'] as const)('the examples of %s have their values', (form) => {
    expect(forms.inputs[form]?.map(parseNumber)).toEqual(forms.expected[form])
  })

  test('the special values of SCPI mean over-range and not a number, in every printed form', () => {
    const replies = specials.inputs.replies ?? []
    expect(replies.length).toBe(6)
    const wanted = specials.expected.meaning?.map((text) => meanings[text])
    expect(replies.map((reply) => scpiValue(parseNumber(reply) ?? 0))).toEqual(wanted)
  })
})

test('special values are known with many digits, with few, and as single precision rounds them', () => {
  const inf = Number.POSITIVE_INFINITY
  for (const text of ['+9.90000000E+37', '9.9E37', '9.90000057E37', '9.89999995E+37', '1E38', '9.92E37'])
    expect(scpiValue(parseNumber(text) ?? 0), text).toBe(inf)
  expect(scpiValue(Math.fround(9.9e37))).toBe(inf)
  expect(scpiValue(Math.fround(-9.9e37))).toBe(-inf)
  expect(scpiValue(Math.fround(9.91e37))).toBeNaN()
  expect(scpiValue(-9.91e37)).toBeNaN()
})

test('an ordinary number keeps its value, however large', () => {
  for (const value of [0, -0.25, 1e9, 9.9e36, -9.8e37]) expect(scpiValue(value)).toBe(value)
})

test('a decimal comma is a decimal point', () => {
  expect(['-0,250', ',5', '1,2E-3', '- 0,3'].map(parseNumber)).toEqual([-0.25, 0.5, 0.0012, -0.3])
})

test('a text that is no number gives null', () => {
  const texts = ['', '-', '.', '1.2.3', '1,0.25', '0x10', 'E5', '1E', '1 2', 'Infinity', 'NaN', '1E9999']
  expect(texts.map(parseNumber)).toEqual(texts.map(() => null))
})

test('the last digit shown is worth its place, the exponent included', () => {
  const texts = ['-0.250', '146', '4.30E-3', '+1.5E+2', '0,31', '.5', '5.', '123E-5']
  expect(texts.map(digitSize)).toEqual([0.001, 1, 1e-5, 10, 0.01, 0.1, 1, 1e-5])
  expect(digitSize('OL')).toBeNull()
})
