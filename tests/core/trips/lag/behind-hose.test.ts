import { expect, test } from 'vitest'
import { behindHose } from '../../../../src/core/trips/lag/behind-hose.ts'
import { trackRows } from '../../../harness/pressure-rows.ts'

/** Readings ten a second of a pressure that is a function of time, s. */
const trackOf = (pa: (tS: number) => number, toS: number) =>
  trackRows(Array.from({ length: Math.round(10 * toS) }, (_, i) => ({ tUs: i * 1e5, pressurePa: pa(i / 10) })))

const behindAt = (pa: (tS: number) => number, tS: number) => behindHose(trackOf(pa, tS), { tS, shownPa: pa(tS) })

test('At a steady pace r a switch behind a hose of τ is behind by r·τ, and by as much the other way for a display.', () => {
  const behind = behindAt((tS) => 1.5 * tS, 40)
  for (const lagS of [0.1, 0.5, 1, 2.5]) {
    expect(behind.hose(lagS) / (1.5 * lagS)).toBeCloseTo(1, 3)
    expect(behind.delay(lagS)).toBeCloseTo(1.5 * lagS, 9)
    expect(behind.hose(-lagS)).toBe(-behind.hose(lagS))
  }
  expect([behind.hose(0), behind.delay(0)]).toEqual([0, 0])
})

// First order behind a change of slope: r₂τ + (r₁ − r₂)τ·e^(−t/τ), by integration.
test('A hand that slowed before the trip leaves the switch farther behind than its pace at the trip says.', () => {
  const pa = (tS: number) => (tS < 20 ? 3 * tS : 60 + 1.2 * (tS - 20))
  const behind = behindAt(pa, 23)
  for (const lagS of [0.5, 1, 2.5])
    expect(behind.hose(lagS)).toBeCloseTo(1.2 * lagS + 1.8 * lagS * Math.exp(-3 / lagS), 2)
  expect(behind.delay(2.5)).toBeCloseTo(3, 9)
})

test('A step to a rest leaves what has not filled yet: P·e^(−t/τ).', () => {
  const pa = (tS: number) => (tS < 20 ? 0 : 50)
  // The step lies between two readings a tenth of a second apart, in the mean at 19.95 s.
  expect(behindAt(pa, 22).hose(1)).toBeCloseTo(50 * Math.exp(-2.05), 1)
})
