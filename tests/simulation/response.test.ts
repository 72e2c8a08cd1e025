import { expect, test } from 'vitest'
import { lagged, pressureAt, reaches, type Stretch } from '../../src/simulation/response.ts'

const still = (pressurePa: number): Stretch => ({ offsetPa: pressurePa, slopePaPerS: 0, decays: [] })
const ramp = (ratePaPerS: number): Stretch => ({ offsetPa: 0, slopePaPerS: ratePaPerS, decays: [] })

// 1 − 1/e: the definition of the time constant of a first-order system.
test('A first-order lag has done 63.2 % of a step after one time constant.', () => {
  const answer = lagged(still(100), 0, 0.25)
  expect(pressureAt(answer, 0)).toBeCloseTo(0, 12)
  expect(pressureAt(answer, 0.25)).toBeCloseTo(63.2121, 4)
})

// The steady answer of tau · y' + y = r · t is r · (t − tau).
test('A first-order lag follows a long ramp later by its time constant.', () => {
  expect(pressureAt(lagged(ramp(1.2), 0, 0.25), 20)).toBeCloseTo(1.2 * (20 - 0.25), 9)
})

test('A lag satisfies its differential equation on a decay, also where both time constants are the same.', () => {
  for (const tauS of [0.1, 0.3, 2]) {
    const input: Stretch = { offsetPa: 5, slopePaPerS: 1, decays: [{ amplitudePa: 40, tauS: 0.3 }] }
    const answer = lagged(input, 60, tauS)
    expect(pressureAt(answer, 0)).toBeCloseTo(60, 6)
    for (const tS of [0.05, 0.4, 1.5]) {
      const slope = (pressureAt(answer, tS + 1e-4) - pressureAt(answer, tS - 1e-4)) / 2e-4
      expect(tauS * slope + pressureAt(answer, tS)).toBeCloseTo(pressureAt(input, tS), 3)
    }
  }
})

test('No time constant means no lag.', () => {
  expect(lagged(ramp(2), 9, 0)).toEqual(ramp(2))
})

test('A crossing is found on straight and on curved stretches, both ways, and is null where there is none.', () => {
  expect(reaches(ramp(2), 5, true, 10)).toBe(2.5)
  expect(reaches(ramp(2), 5, true, 2)).toBeNull()
  expect(reaches(ramp(-2), -5, false, 10)).toBe(2.5)
  expect(reaches(ramp(2), -1, true, 10)).toBe(0)
  const decay: Stretch = { offsetPa: 0, slopePaPerS: 0, decays: [{ amplitudePa: 100, tauS: 0.3 }] }
  // Half of a decay is gone after tau · ln 2.
  expect(reaches(decay, 50, false, 10)).toBeCloseTo(0.3 * Math.LN2, 8)
})
