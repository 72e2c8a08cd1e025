import { describe, expect, test } from 'vitest'
import {
  limitsText,
  limitText,
  liveStepPa,
  noNumber,
  stepText,
  uncertainText,
} from '../../../src/terminal/text/pressure-text.ts'
import { samplePart } from '../sample-lives.ts'

describe('stepText', () => {
  test('shows a pressure to the step in the unit asked for', () => {
    expect(stepText(62.272, liveStepPa(samplePart), 'inH2O')).toBe('0.250')
    expect(stepText(62.272, liveStepPa(samplePart), 'Pa')).toBe('62.3')
    expect(stepText(1245.4, 5, 'Pa')).toBe('1245')
  })

  test('never shows a negative zero, nor a number where there is none', () => {
    expect(stepText(-0.01, 0.3, 'Pa')).toBe('0.0')
    expect(stepText(null, 0.3, 'Pa')).toBe(noNumber)
    expect(stepText(Number.NaN, 0.3, 'Pa')).toBe(noNumber)
    expect(stepText(Number.POSITIVE_INFINITY, 0.3, 'Pa')).toBe(noNumber)
  })
})

describe('uncertainText', () => {
  test('rounds value and uncertainty together, in the unit asked for', () => {
    expect(uncertainText(61.6, 0.52, 'Pa', 0.3)).toEqual({ value: '61.60', U: '0.52' })
    expect(uncertainText(61.6, 0.52, 'inH2O', 0.3)).toEqual({ value: '0.2473', U: '0.0021' })
  })

  test('falls back to the step where there is no uncertainty', () => {
    expect(uncertainText(61.234, null, 'Pa', 0.3)).toEqual({ value: '61.2', U: noNumber })
    expect(uncertainText(null, null, 'Pa', 0.3)).toEqual({ value: noNumber, U: noNumber })
  })
})

describe('limitsText', () => {
  test('shows limits as they were given, back from pascal', () => {
    expect(limitText(0.22 * 249.08891, 'inH2O')).toBe('0.22')
    expect(limitsText({ lowPa: 55, highPa: 70 }, 'Pa')).toBe('55 to 70')
    expect(limitsText({ lowPa: 55, highPa: null }, 'Pa')).toBe('at least 55')
    expect(limitsText({ lowPa: null, highPa: 70 }, 'Pa')).toBe('at most 70')
    expect(limitsText({ lowPa: null, highPa: null }, 'Pa')).toBeNull()
    expect(limitsText(null, 'Pa')).toBeNull()
  })
})
