// Rates in a row into the word for the hand's pace.
import { describe, expect, test } from 'vitest'
import { paceOf } from '../../../src/core/guide/pace.ts'

const band = { lowPaPerS: 1, aimPaPerS: 5, mostPaPerS: 10 }
/** The word at each of `rates`, a quarter of a second apart. */
const words = (...rates: number[]) => rates.map((_, i) => paceOf(rates.slice(0, i + 1), Math.abs(rates[i]!), band))

describe('The word for the pace', () => {
  test('follows the band', () => {
    expect(words(5)).toEqual(['good'])
    expect(words(-11)).toEqual(['too-fast'])
    expect(words(0.7)).toEqual(['too-slow'])
    expect(words(0.2)).toEqual(['still'])
  })

  test('stays "too fast" until the pace is well below the limit, so that it does not flicker there', () => {
    expect(words(10.2, 9.84, 10.1, 9.2, 8.9, 9.84, 10.1)).toEqual([
      'too-fast',
      'too-fast',
      'too-fast',
      'too-fast',
      'good',
      'good',
      'too-fast',
    ])
  })

  test('stays "too slow" until the pace is well above the limit', () => {
    expect(words(0.9, 1.02, 0.95, 1.2, 1.05)).toEqual(['too-slow', 'too-slow', 'too-slow', 'good', 'good'])
  })

  test('is not "too slow" for the moment of a kick', () => {
    expect(paceOf([2, 2, 0.3], 1.8, band)).toBe('good')
  })
})
