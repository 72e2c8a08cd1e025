import { describe, expect, test } from 'vitest'
import type { SessionFit } from '../../../../src/core/trips/fit.ts'
import { freeOfHose, hoseLags } from '../../../../src/core/trips/lag/hose.ts'
import type { TripInput, TripValue } from '../../../../src/core/trips/trip-moment.ts'
import { createRandom } from '../../../harness/foreign-recording.ts'

const surface = { cells: [], answers: [], kick: { evidence: 10, fades: false, sizePa: 3, sizeVar: 0.01, mostPa: 25 } }

/** Trips of a switch at 62 and 47 Pa that feels the pressure late: M(r) = M0 + rL, B(r) = B0 − rL. */
function trips(hoseS: number, rates: readonly number[], seed: number, scatterPa = 0.3) {
  const random = createRandom(seed)
  const inputs: TripInput[] = []
  const values: TripValue[] = []
  for (const rate of rates)
    for (const transition of ['make', 'break'] as const) {
      const valuePa = (transition === 'make' ? 62 + rate * hoseS : 47 - rate * hoseS) + scatterPa * random.normal()
      const closes = transition === 'make'
      inputs.push({
        transition,
        counted: true,
        closes,
        loS: 0,
        hiS: 0.2,
        surface,
        kick: true,
        dated: true,
        contactBlind: false,
      })
      values.push({
        valuePa,
        loPa: valuePa,
        hiPa: valuePa,
        sdPa: 0.05,
        ratePaPerS: rate * (1 + 0.02 * random.normal()),
        pacePaPerS: rate,
      })
    }
  return { inputs, values }
}

const most = { hoseS: 3, displayS: 0, taken: true }
const lagsOf = ({ inputs, values }: ReturnType<typeof trips>) => hoseLags(inputs, values, most)

const seeds = Array.from({ length: 200 }, (_, seed) => seed)

describe('the lag of the hose', () => {
  test('is the slope of the trips over the rate, within 4 × its own uncertainty', () => {
    for (const seed of seeds) {
      const { make, break: back } = lagsOf(trips(2, [0.8, 0.8, 0.8, 2.4, 2.4, 2.4], seed))
      for (const { shown } of [make, back]) {
        expect(shown).not.toBeNull()
        expect(Math.abs(shown!.valueS - 2)).toBeLessThan(4 * shown!.uS + 0.1)
      }
    }
  })

  // A slope over rates that differ by their noise alone once moved make and break by eight pascal.
  test('is not looked for where all trips had one pace, and anything up to the longest is allowed for', () => {
    for (const seed of seeds) {
      const { make } = lagsOf(trips(0, [1, 1, 1, 1, 1, 1], seed))
      expect(make).toEqual({ shown: null, openS: 3, openBackS: 0 })
    }
  })

  test('where the paces show none, lies below the bound 95 times in 100', () => {
    let beyond = 0
    for (const hoseS of [0, 0.2])
      for (const seed of seeds) {
        const { make } = lagsOf(trips(hoseS, [1.2, 1.2, 1.2, 1.2, 1.2, 1.2, 3, 3], seed))
        const mostS = make.shown ? make.shown.valueS + 1.96 * make.shown.uS : make.openS
        if (mostS < hoseS) beyond++
        // 6 slow strokes and 2 brisk ones: u = 0.3·√(1/6 + 1/2)/1.8 = 0.14 s.
        expect(make.openS).toBeLessThan(1)
      }
    // One in twenty of 400 is 20, give or take 4.4.
    expect(beyond).toBeLessThan(34)
  })

  test('is seldom seen where there is none, and never where it would be negative', () => {
    let seen = 0
    for (const seed of seeds) {
      if (lagsOf(trips(0, [1, 1, 2, 1, 1, 2], seed)).make.shown !== null) seen++
      expect(lagsOf(trips(-2, [0.8, 0.8, 2.4, 0.8, 0.8, 2.4], seed)).make.shown).toBeNull()
    }
    // One in a hundred is meant.
    expect(seen).toBeLessThan(9)
  })

  test('is not told by trips that do not count', () => {
    const { inputs, values } = trips(2, [0.8, 0.8, 2.4, 2.4], 1)
    const idle = inputs.map((t) => ({ ...t, counted: false }))
    expect(hoseLags(idle, values, most).make).toEqual({ shown: null, openS: 3, openBackS: 0 })
  })
})

test('Freed of the hose, makes come down and breaks go up by rate × lag, and the lag carries both.', () => {
  const { inputs, values } = trips(2, [0.8, 0.8, 2.4, 2.4], 3, 0)
  const point = { valuePa: 0, scatterU: 0.1, scatterDof: 3, lagU: 0.01, sigmaPa: 0.3, n: 4 }
  const fit: SessionFit = {
    lag: { valueS: -0.04, uS: 0.02 },
    make: point,
    break: point,
    differentialLagU: 0.02,
    values,
    dampingS: 0.05,
  }
  const two = { shown: { valueS: 2, uS: 0.05 }, openS: 0, openBackS: 0 }
  const freed = freeOfHose(fit, inputs, { make: two, break: two })
  // The rates are known to 2 %: 2.4 Pa/s × 2 s × 2 % each.
  expect(Math.abs(freed.make!.valuePa - 62)).toBeLessThan(0.15)
  expect(Math.abs(freed.break!.valuePa - 47)).toBeLessThan(0.15)
  expect(freed.lag.valueS).toBeCloseTo(1.96, 12)
  expect(freed.lag.uS).toBeCloseTo(Math.hypot(0.02, 0.05), 12)
  const meanRate = values.filter((_, i) => inputs[i]!.transition === 'make').reduce((s, v) => s + v.ratePaPerS, 0) / 4
  expect(freed.make!.lagU).toBeCloseTo(Math.hypot(0.01, meanRate * 0.05), 9)
})
