// Pressure units against NIST SP 811 (tests/reference/pressure-units.json), and the spellings that displays use.
import { describe, expect, test } from 'vitest'
import {
  knownUnit,
  type PressureUnit,
  pressureUnit,
  pressureUnitNames,
  pressureUnits,
  resistanceFactor,
} from '../../../src/core/model/units.ts'
import published from '../../reference/pressure-units.json' with { type: 'json' }

const entry = (id: string) => {
  const found = published.find((e) => e.id === id)
  if (found === undefined) throw new Error(`no published entry ${id}`)
  return found
}

const publishedId: Record<PressureUnit, string | null> = {
  // SI units: exact by definition (SI Brochure, 9th edition, tables 3 and 7).
  Pa: null,
  hPa: null,
  kPa: null,
  mbar: 'unit-mbar',
  inH2O: 'unit-inH2O-conv',
  mmH2O: 'unit-mmH2O-conv',
  cmH2O: 'unit-cmH2O-conv',
  psi: 'unit-psi',
  inHg: 'unit-inHg-conv',
  mmHg: 'unit-mmHg-conv',
  Torr: 'unit-torr',
}

describe('pressure units', () => {
  test.each(pressureUnitNames)('one %s has the published number of pascals', (unit) => {
    const id = publishedId[unit]
    if (id === null) return expect(pressureUnits[unit]).toBe({ Pa: 1, hPa: 100, kPa: 1000 }[unit as string])
    const { expected, tolerance } = entry(id)
    const limit = typeof tolerance === 'string' ? 0 : tolerance.abs
    expect(Math.abs(pressureUnits[unit] - (expected.Pa ?? Number.NaN))).toBeLessThanOrEqual(limit)
  })

  test('an inch of water is the conventional one, told apart from those at 4 °C and at 60 °F', () => {
    for (const id of ['unit-inH2O-4C', 'unit-inH2O-60F']) {
      const { expected, tolerance } = entry(id)
      const limit = typeof tolerance === 'string' ? 0 : tolerance.abs
      expect(Math.abs(pressureUnits.inH2O - (expected.Pa ?? Number.NaN))).toBeGreaterThan(limit)
    }
  })

  test.each(['unit-setpoint-0.15', 'unit-setpoint-0.17'])('a rated point in inches of water, %s', (id) => {
    const { inputs, expected, tolerance } = entry(id)
    const limit = typeof tolerance === 'string' ? 0 : tolerance.abs
    const pressurePa = (inputs.value ?? Number.NaN) * pressureUnits.inH2O
    expect(Math.abs(pressurePa - (expected.Pa_conventional ?? Number.NaN))).toBeLessThanOrEqual(limit)
  })
})

describe('spellings', () => {
  test.each([
    ['inH2O', ['inH2O', 'in wc', 'inWC', 'in. W.C.', 'IN H2O', 'InH20', '"H2O', '" H2O', '"wc', "''H2O", 'in-w.g.']],
    ['mmH2O', ['mmH2O', 'mm H2O', 'MMWC']],
    ['cmH2O', ['cmH2O', 'cm WC']],
    ['Pa', ['Pa', 'PA', 'pa']],
    ['hPa', ['hPa', 'HPA']],
    ['kPa', ['kPa', 'KPA']],
    ['mbar', ['mbar', 'mBar', 'MBAR']],
    ['psi', ['psi', 'PSI', 'psid']],
    ['inHg', ['inHg', 'in. Hg', '"Hg']],
    ['mmHg', ['mmHg', 'mm Hg']],
    ['Torr', ['Torr', 'torr']],
  ])('%s is known however it is written', (unit, texts) => {
    for (const text of texts) expect(pressureUnit(text), text).toBe(unit)
  })

  test('every canonical name is its own spelling', () => {
    for (const unit of pressureUnitNames) expect(pressureUnit(unit)).toBe(unit)
  })

  test.each(['', 'bar', 'MPa', 'mPa', 'psia', 'inH2O@20C', 'Pa/s', 'in', 'V', 'C', 'constructor'])(
    '"%s" is no pressure unit',
    (text) => {
      expect(pressureUnit(text)).toBeNull()
    },
  )

  test('both ohm signs and both micro signs are understood', () => {
    for (const sign of ['\u2126', '\u03a9']) {
      expect(resistanceFactor(sign)).toBe(1)
      expect(resistanceFactor(`k${sign}`)).toBe(1e3)
      expect(resistanceFactor(`M${sign}`)).toBe(1e6)
      expect(resistanceFactor(`m${sign}`)).toBe(1e-3)
      expect(resistanceFactor(`\u00b5${sign}`)).toBe(1e-6)
      expect(resistanceFactor(`\u03bc${sign}`)).toBe(1e-6)
    }
  })

  test('a small m is milli, a large one mega, and a text in small letters only is refused as either', () => {
    expect(resistanceFactor('mOhm')).toBe(1e-3)
    expect(['MOhm', 'MOHM', 'Mohm', 'Megohm'].map(resistanceFactor)).toEqual([1e6, 1e6, 1e6, 1e6])
    expect(['mohm', 'mohms', 'kV', 'R', 'k', ''].map(resistanceFactor)).toEqual(Array(6).fill(null))
    expect(['ohm', 'Ohms', 'OHM', 'kohm', 'KOHM', 'k Ohm'].map(resistanceFactor)).toEqual([1, 1, 1, 1e3, 1e3, 1e3])
  })

  test('a resistance is in ohm whatever its range, a pressure in the unit it was shown in', () => {
    expect(knownUnit('kOhm')).toEqual({ quantity: 'resistance', unit: 'ohm', factor: 1000 })
    expect(knownUnit('kPa')).toEqual({ quantity: 'pressure', unit: 'kPa', factor: 1000 })
    expect(knownUnit('V')).toBeNull()
  })
})
