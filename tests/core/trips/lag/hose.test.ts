import { describe, expect, test } from 'vitest'
import type { SessionFit } from '../../../../src/core/trips/fit.ts'
import { freeOfHose, hoseLag } from '../../../../src/core/trips/lag/hose.ts'
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
      })
    }
  return { inputs, values }
}

const seeds = Array.from({ length: 200 }, (_, seed) => seed)

describe('the lag of the hose', () => {
  test('is the slope of the trips over the rate, within 4 × its own uncertainty', () => {
    for (const seed of seeds) {
      const { inputs, values } = trips(2, [0.8, 0.8, 0.8, 2.4, 2.4, 2.4], seed)
      const hose = hoseLag(inputs, values)
      expect(hose).not.toBeNull()
      expect(Math.abs(hose!.valueS - 2)).toBeLessThan(4 * hose!.uS + 0.1)
    }
  })

  // A slope over rates that differ by their noise alone once moved make and break by eight pascal.
  test('is not looked for where all trips had one pace', () => {
    for (const seed of seeds) {
      const { inputs, values } = trips(0, [1, 1, 1, 1, 1, 1], seed)
      expect(hoseLag(inputs, values)).toBeNull()
    }
  })

  test('is seldom seen where there is none, and never where it would be negative', () => {
    let seen = 0
    for (const seed of seeds) {
      const { inputs, values } = trips(0, [1, 1, 2, 1, 1, 2], seed)
      if (hoseLag(inputs, values) !== null) seen++
      const inverse = trips(-2, [0.8, 0.8, 2.4, 0.8, 0.8, 2.4], seed)
      expect(hoseLag(inverse.inputs, inverse.values)).toBeNull()
    }
    // One in a thousand is meant; three in two hundred is far beyond chance.
    expect(seen).toBeLessThan(3)
  })

  test('is not told by trips that do not count', () => {
    const { inputs, values } = trips(2, [0.8, 0.8, 2.4, 2.4], 1)
    expect(
      hoseLag(
        inputs.map((t) => ({ ...t, counted: false })),
        values,
      ),
    ).toBeNull()
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
  const freed = freeOfHose(fit, inputs, { valueS: 2, uS: 0.05 })
  // The rates are known to 2 %: 2.4 Pa/s × 2 s × 2 % each.
  expect(Math.abs(freed.make!.valuePa - 62)).toBeLessThan(0.15)
  expect(Math.abs(freed.break!.valuePa - 47)).toBeLessThan(0.15)
  expect(freed.lag.valueS).toBeCloseTo(1.96, 12)
  expect(freed.lag.uS).toBeCloseTo(Math.hypot(0.02, 0.05), 12)
  const meanRate = values.filter((_, i) => inputs[i]!.transition === 'make').reduce((s, v) => s + v.ratePaPerS, 0) / 4
  expect(freed.make!.lagU).toBeCloseTo(Math.hypot(0.01, meanRate * 0.05), 9)
})
