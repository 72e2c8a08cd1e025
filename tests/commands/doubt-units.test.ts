// Parts with one unit mistaken into what is asked about them; sound parts into nothing.
import { describe, expect, test } from 'vitest'
import { testDoubts } from '../../src/commands/doubt-setup.ts'
import { partUnitDoubts, reachDoubt } from '../../src/commands/doubt-units.ts'
import { type Part, partFileSchema } from '../../src/core/model/part.ts'
import { type Rig, rigFileSchema } from '../../src/core/model/rig.ts'
import { type PressureUnit, pressureUnits } from '../../src/core/model/units.ts'
import { findScenario, scenarioNames } from '../../src/simulation/find-scenario.ts'

const inH2O = 'inH2O'
const part = (change: object = {}): Part =>
  partFileSchema.parse({
    kind: 'draft-proving',
    rated: { value: 0.25, unit: inH2O, on: 'make' },
    limits: {
      make: { low: 0.22, high: 0.28, unit: inH2O },
      break: { low: 0.15, high: null, unit: inH2O },
      differential: { low: 0.01, high: 0.09, unit: inH2O },
    },
    proof: { value: 10, unit: inH2O },
    ...change,
  })
const rig = (value: number, unit: PressureUnit): Rig =>
  rigFileSchema.parse({
    manometer: {
      ...{ driver: 'ascii-line', suctionSign: -1, digit: { value: 0.001, unit: inH2O } },
      accuracy: { ofReading: 0, ofFullScale: 0.005, fullScale: { value, unit } },
    },
    meter: { driver: 'scpi-query', pair: 'com-no' },
  })
const fields = (of: Part) => partUnitDoubts(of).map(({ field }) => field)

test('nothing is asked about the example, nor about any part and rig of the simulation', () => {
  expect(testDoubts(part(), rig(2, inH2O))).toEqual([])
  for (const name of scenarioNames) {
    const { part: own, rig: bench } = findScenario(name, 1)
    expect(testDoubts(own, bench), name).toEqual([])
  }
})

describe('A unit that is mistaken for another is asked about:', () => {
  // 249, 100, 25.4, 9.81, 10 and 2.49: the steps between the units of small pressures.
  const wrong = (Object.keys(pressureUnits) as PressureUnit[]).filter(
    // 1.87 is less than a limit may lie off its rated point.
    (unit) => unit !== inH2O && unit !== 'mmHg' && unit !== 'Torr',
  )
  const limitsWith = (name: 'make' | 'break' | 'differential', limit: object) =>
    part({ limits: { ...part().limits, [name]: limit } })

  test.each(wrong)('one side alone of the make, in %s', (unit) => {
    // Where the rated point lies outside it is refused before; a low limit that is far too low is not.
    if (pressureUnits[unit] < pressureUnits.inH2O)
      expect(fields(limitsWith('make', { low: 0.22, high: null, unit }))).toEqual(['limits.make.low'])
    else expect(fields(limitsWith('make', { low: null, high: 0.28, unit }))).toEqual(['limits.make.high'])
  })
  test.each(wrong)('the break and the differential, in %s', (unit) => {
    expect(fields(limitsWith('break', { low: 0.15, high: null, unit }))).toEqual(['limits.break.low'])
    const doubts = fields(limitsWith('differential', { low: 0.01, high: 0.09, unit }))
    // 0.09 hPa is 0.14 of the rated point, as a differential may be.
    const near: readonly PressureUnit[] = ['hPa', 'mbar', 'cmH2O']
    if (!near.includes(unit)) expect(doubts).toContain('limits.differential.high')
  })
  test('the rated point, with all others against it', () => {
    const doubts = fields(
      part({ rated: { value: 0.25, unit: 'psi', on: 'make' }, proof: null, limits: { break: part().limits!.break } }),
    )
    expect(doubts).toEqual(['limits.break.low'])
  })
  test('the proof, too high by 249', () => {
    expect(fields(part({ proof: { value: 2490, unit: inH2O } }))).toEqual(['proof.value'])
  })
  test('with the share, and the unit in which it would fit', () => {
    expect(partUnitDoubts(limitsWith('break', { low: 0.15, high: null, unit: 'Pa' }))[0]!.text).toBe(
      'break limits low is 0.15 Pa, 0.0024 × the rated point of 0.25 inH2O: is it 0.15 inH2O?',
    )
  })
})

test('a manometer that does not reach the part, or reaches far beyond it, is asked about with its full scale', () => {
  expect(reachDoubt(part(), rig(2, 'Pa'))).toMatch(
    /^The full scale of the manometer is 2 Pa, 0\.032 × .*: is it 2 inH2O\?$/,
  )
  expect(reachDoubt(part(), rig(500, inH2O))).toMatch(
    /^The full scale of the manometer is 500 inH2O, .*: is it 500 Pa\?$/,
  )
  expect(reachDoubt(part(), rig(20, inH2O))).toBeNull()
  expect(testDoubts(part(), rig(2, 'Pa'))[0]).toMatch(/^Before the test: The full scale/)
})
