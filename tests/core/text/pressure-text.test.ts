import { describe, expect, test } from 'vitest'
import { pressureUnits } from '../../../src/core/model/units.ts'
import {
  allowanceText,
  type Digits,
  limitsText,
  limitText,
  noNumber,
  numberText,
  oneUnitText,
  pressureText,
  readingStep,
  tripStep,
  uncertainNumbers,
  uncertainText,
} from '../../../src/core/text/pressure-text.ts'

const { inH2O } = pressureUnits
const every: Digits[] = [{ UPa: 0.5 }, { UPa: null }, { stepPa: 0.3 }, { figures: 3 }, { upTo: 4 }, 'as U', 'at most']

describe('a pressure in a sentence', () => {
  test('is in the unit of the rating first and in Pa second, to three figures where nothing else is said', () => {
    expect(pressureText(0.0921 * inH2O, 'inH2O')).toBe('0.0921 inH2O (22.9 Pa)')
    expect(pressureText(0.25 * inH2O, 'inH2O')).toBe('0.250 inH2O (62.3 Pa)')
    expect(pressureText(5 * inH2O, 'inH2O')).toBe('5.00 inH2O (1250 Pa)')
  })

  test('is one number where the rating is in Pa', () => {
    expect(pressureText(62.272, 'Pa')).toBe('62.3 Pa')
    expect(uncertainText({ valuePa: 61.6, UPa: 0.52 }, 'Pa', readingStep(60))).toBe('61.60 ± 0.52 Pa')
  })

  test('has its U beside it, both rounded together in each unit', () => {
    expect(uncertainText({ valuePa: 61.6, UPa: 0.52 }, 'inH2O', readingStep(60))).toBe(
      '0.2473 ± 0.0021 inH2O (61.60 ± 0.52 Pa)',
    )
  })

  test('is rounded to a U that is known and not told', () => {
    expect(pressureText(61.6049, 'inH2O', { UPa: 0.52 })).toBe('0.2473 inH2O (61.60 Pa)')
    expect(pressureText(61.6049, 'inH2O', { UPa: 5.2 })).toBe('0.247 inH2O (61.6 Pa)')
    expect(pressureText(61.6049, 'inH2O', { UPa: null })).toBe('0.247 inH2O (61.6 Pa)')
  })

  test('says a rate with what it is for behind each unit', () => {
    expect(pressureText(6.5, 'inH2O', { figures: 2 }, '/s')).toBe('0.026 inH2O/s (6.5 Pa/s)')
    expect(oneUnitText(6.5, 'Pa', tripStep(62), '/s')).toBe('6.50 Pa/s')
  })
})

describe('a number alone', () => {
  test('is rounded to the step in the unit asked for, never coarser than ones', () => {
    expect(numberText(62.272, 'inH2O', readingStep(62.272))).toBe('0.250')
    expect(numberText(62.272, 'Pa', readingStep(62.272))).toBe('62.3')
    expect(numberText(61.491, 'Pa', tripStep(62.272))).toBe('61.49')
    expect(numberText(1245.4, 'Pa', { stepPa: 5 })).toBe('1245')
    expect(numberText(1245.4, 'Pa', { stepPa: 50 })).toBe('1245')
    expect(numberText(0.255 * inH2O, 'inH2O', { stepPa: 0.005 * inH2O })).toBe('0.255')
    expect(numberText(1.5, 'Pa', { stepPa: 0 })).toBe('2')
  })

  test('of an uncertainty goes up where the nearest would take more than 1 % of it away', () => {
    expect(numberText(0.521, 'Pa', 'as U')).toBe('0.52')
    expect(numberText(10.47, 'Pa', 'as U')).toBe('11')
  })

  test('that must not be exceeded goes down, and a whole one stays', () => {
    expect(pressureText(3.199, 'inH2O', 'at most')).toBe('0.012 inH2O (3.1 Pa)')
    expect(numberText(0.29, 'Pa', 'at most')).toBe('0.29')
    expect(numberText(0.999, 'Pa', 'at most')).toBe('0.99')
    expect(numberText(129.9, 'Pa', 'at most')).toBe('120')
  })

  test.each(every)('never is a negative zero, nor a number where there is none (%o)', (digits) => {
    expect(Number(numberText(-0, 'inH2O', digits))).toBe(0)
    for (const pressurePa of [-0, 0, -1e-12]) expect(numberText(pressurePa, 'inH2O', digits)).not.toMatch(/^-[0.]*$/)
    for (const pressurePa of [null, Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])
      expect(numberText(pressurePa, 'inH2O', digits)).toBe(noNumber)
  })

  test.each(every)('is near what it tells and has no exponent (%o)', (digits) => {
    for (const unit of ['Pa', 'inH2O', 'kPa', 'psi'] as const)
      for (const valuePa of [3, 61.6049, 249.08891, 999.7, 25_000]) {
        const text = numberText(valuePa, unit, digits)
        expect(text).toMatch(/^\d+(\.\d+)?$/)
        expect(Math.abs(Number(text) * pressureUnits[unit] - valuePa)).toBeLessThan(0.1 * valuePa)
      }
  })
})

describe('value and uncertainty in one unit', () => {
  test('are rounded together', () => {
    expect(uncertainNumbers({ valuePa: 61.6, UPa: 0.52 }, 'Pa', readingStep(62))).toBe('61.60 ± 0.52')
    expect(uncertainNumbers({ valuePa: 61.6, UPa: 0.52 }, 'inH2O', readingStep(62))).toBe('0.2473 ± 0.0021')
  })

  test('fall back to the step where there is no uncertainty, and to nothing where there is no value', () => {
    expect(uncertainNumbers({ valuePa: 61.234, UPa: null }, 'Pa', readingStep(62))).toBe(`61.2 ± ${noNumber}`)
    expect(uncertainNumbers({ valuePa: 61.234, UPa: 0 }, 'Pa', readingStep(62))).toBe(`61.2 ± ${noNumber}`)
    expect(uncertainNumbers({ valuePa: null, UPa: null }, 'Pa', readingStep(62))).toBe(noNumber)
  })
})

describe('limits', () => {
  test('are shown as they were given, back from pascal', () => {
    expect(limitText(0.22 * inH2O, 'inH2O')).toBe('0.22')
    expect(limitsText({ lowPa: 55, highPa: 70 }, 'Pa')).toBe('55 to 70')
    expect(limitsText({ lowPa: 55, highPa: null }, 'Pa')).toBe('at least 55')
    expect(limitsText({ lowPa: null, highPa: 70 }, 'Pa')).toBe('at most 70')
    expect(limitsText({ lowPa: null, highPa: null }, 'Pa')).toBeNull()
    expect(limitsText(null, 'Pa')).toBeNull()
  })

  test('within which results pass have the figures of U and are never wider than they are', () => {
    const accept = { lowPa: 57.911, highPa: 66.779 }
    expect(limitsText(accept, 'Pa', 3.1)).toBe('58.0 to 66.7')
    expect(limitsText(accept, 'inH2O', 3.1)).toBe('0.233 to 0.268')
    expect(limitsText({ lowPa: -0.01, highPa: null }, 'Pa', 3.1)).toBe('at least 0.0')
  })
})

describe('allowanceText', () => {
  const text = (allowLowPa: number | null, allowHighPa: number | null, narrow = false) =>
    allowanceText({ UPa: 0.52, allowLowPa, allowHighPa }, 'inH2O', readingStep(62), narrow)

  test('says each side that is more than nothing, at the digits of U, in the unit of the rating first', () => {
    expect(text(3.6, 0)).toBe('0.0145 inH2O (3.60 Pa) lower')
    expect(text(0.2, 3.6)).toBe('0.0008 inH2O (0.20 Pa) lower or 0.0145 inH2O (3.60 Pa) higher')
    expect(text(3.6, 0, true)).toBe('0.0145 lower')
  })

  test('what rounds to nothing there is not told', () => {
    expect(text(0.004, 0)).toBeNull()
    expect(text(null, null)).toBeNull()
    expect(allowanceText({ UPa: null, allowLowPa: 3.6, allowHighPa: 0 }, 'Pa', readingStep(62))).toBe('3.6 Pa lower')
  })
})
