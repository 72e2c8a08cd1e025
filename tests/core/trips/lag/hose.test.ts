import { describe, expect, test } from 'vitest'
import type { SessionFit } from '../../../../src/core/trips/fit.ts'
import { freeOfHose, type HoseTrip, hoseLags, type MostLag } from '../../../../src/core/trips/lag/hose.ts'
import { createRandom } from '../../../harness/foreign-recording.ts'

type Shape = { paPerS: number; hosePaPerS?: number }

/**
 * Trips of a switch at 62 and 47 Pa that feels the pressure `lagS` late: at one pace M(r) = M0 + rL, B(r) = B0 − rL. `hosePaPerS`:
 * what a second of a hose makes where the hand changed its pace before the trip.
 */
function trips(lagS: number, strokes: readonly (number | Shape)[], seed: number, scatterPa = 0.3): HoseTrip[] {
  const random = createRandom(seed)
  return strokes.flatMap((stroke) =>
    (['make', 'break'] as const).map((transition): HoseTrip => {
      const { paPerS, hosePaPerS = paPerS }: Shape = typeof stroke === 'number' ? { paPerS: stroke } : stroke
      const sign = transition === 'make' ? 1 : -1
      const valuePa = (transition === 'make' ? 62 : 47) + sign * hosePaPerS * lagS + scatterPa * random.normal()
      return {
        input: { transition, counted: true },
        value: {
          valuePa,
          loPa: valuePa,
          hiPa: valuePa,
          sdPa: 0.05,
          ratePaPerS: paPerS,
          seen: { tS: 0, shownPa: valuePa },
          takenPa: 0,
          open: { lowPa: 0, highPa: 0 },
        },
        behind: {
          hose: (s) => sign * hosePaPerS * s,
          orifice: (s) => sign * paPerS ** 2 * s,
          delay: (s) => sign * paPerS * s,
        },
      }
    }),
  )
}

const most: MostLag = { hoseS: 3, displayS: { make: 0, break: 0 }, shapes: ['hose'], known: null, taken: true }
const undated: MostLag = {
  ...most,
  displayS: { make: 1, break: 1 },
  shapes: ['hose', 'delay'],
  known: { uS: 0.2, recorded: false },
}
const lagsOf = (all: HoseTrip[]) => hoseLags(all, most)

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
      expect(make).toMatchObject({ shown: null, late: { lagS: 3 }, early: { lagS: 0, pa: 0 } })
      expect(make.late.pa).toBeCloseTo(3, 9)
    }
  })

  test('where the paces show none, lies below the bound 95 times in 100', () => {
    let beyond = 0
    for (const hoseS of [0, 0.2])
      for (const seed of seeds) {
        const { make } = lagsOf(trips(hoseS, [1.2, 1.2, 1.2, 1.2, 1.2, 1.2, 3, 3], seed))
        const mostS = make.shown ? make.shown.valueS + 1.96 * make.shown.uS : make.late.lagS
        if (mostS < hoseS) beyond++
        // 6 slow strokes and 2 brisk ones: u = 0.3·√(1/6 + 1/2)/1.8 = 0.14 s.
        expect(make.late.lagS).toBeLessThan(1)
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
    const idle = trips(2, [0.8, 0.8, 2.4, 2.4], 1).map((t) => ({ ...t, input: { ...t.input, counted: false } }))
    expect(lagsOf(idle).make).toMatchObject({ shown: null, late: { lagS: 3 } })
  })

  // The rates at the trips differ by 2.5, what the hose makes of them does not: by the rates no hose would be left.
  test('is not ruled out by paces that differ at the trips and not before them', () => {
    const slowed = { paPerS: 1.2, hosePaPerS: 2.8 }
    for (const seed of seeds) {
      const { make } = lagsOf(trips(2.5, [slowed, slowed, slowed, slowed, slowed, { paPerS: 3 }, { paPerS: 3 }], seed))
      expect(make.shown === null ? make.late.lagS : make.shown.valueS + 2 * make.shown.uS).toBeGreaterThan(2)
    }
  })

  // Guide to the expression of uncertainty: bounds of independent estimates do not add up in line; the joint one holds at its own level.
  test('is open in the differential by less than make and break leave open alone, and still holds what a hose takes off it', () => {
    for (const lagS of [0, 0.1, 0.3]) {
      let [held, open] = [0, 0]
      for (const seed of seeds) {
        const all = trips(lagS, [1.2, 1.2, 1.2, 1.2, 1.2, 3, 3], seed)
        const { make, break: back, both } = lagsOf(all)
        if (make.shown || back.shown) continue
        open++
        const mean = (transition: 'make' | 'break') => {
          const own = all.filter(({ input }) => input.transition === transition)
          return own.reduce((sum, { behind }) => sum + Math.abs(behind.hose(lagS)), 0) / own.length
        }
        if (both.latePa >= mean('make') + mean('break')) held++
        expect(both.latePa).toBeLessThanOrEqual(make.late.pa + back.late.pa + 1e-9)
      }
      expect(open).toBeGreaterThan(20)
      expect(held).toBeGreaterThan(0.9 * open)
    }
  })

  test('without kicks is told by the paces, and a lag of either shape that they do not exclude stays open', () => {
    const slowed = { paPerS: 1.2, hosePaPerS: 2 }
    let [held, told] = [0, 0]
    for (const seed of seeds) {
      const all = trips(0.5, [slowed, slowed, slowed, slowed, slowed, 3, 3], seed)
      const { shown, late, early } = hoseLags(all, undated).make
      if (shown === null) continue
      told++
      const makes = all.filter(({ input }) => input.transition === 'make')
      const mean = (of: (t: HoseTrip) => number) => makes.reduce((sum, t) => sum + of(t), 0) / makes.length
      const takenPa = mean(({ behind }) => behind[shown.shape](shown.valueS))
      const truePa = mean(({ behind }) => behind.hose(0.5))
      const uPa = mean(({ behind }) => behind[shown.shape](shown.uS))
      if (truePa < takenPa + late.pa + 2 * uPa && truePa > takenPa - early.pa - 2 * uPa) held++
    }
    expect(told).toBeGreaterThan(0.5 * seeds.length)
    expect(held).toBeGreaterThan(0.9 * told)
  })

  test('a display that is late is told by both transitions together', () => {
    for (const seed of seeds.slice(0, 50)) {
      const lags = hoseLags(trips(-0.5, [1.2, 1.2, 1.2, 1.2, 1.2, 3, 3], seed, 0.1), undated)
      for (const { shown } of [lags.make, lags.break]) expect(shown!.valueS).toBeCloseTo(-0.5, 0)
      expect(lags.make.shown).toEqual(lags.break.shown)
    }
  })
})

test('Freed of the hose, makes come down and breaks go up by rate × lag, and the lag carries both.', () => {
  const all = trips(2, [0.8, 0.8, 2.4, 2.4], 3, 0)
  const point = { valuePa: 0, scatterU: 0.1, scatterDof: 3, lagU: 0.01, sigmaPa: 0.3, n: 4 }
  const fit: SessionFit = {
    lag: { valueS: -0.04, uS: 0.02 },
    make: point,
    break: point,
    differentialLagU: 0.02,
    values: all.map(({ value }) => value),
    dampingS: 0.05,
  }
  const none = { lagS: 0, pa: 0 }
  const two = { shown: { shape: 'hose' as const, valueS: 2, uS: 0.05 }, late: none, early: none }
  const freed = freeOfHose(fit, all, { make: two, break: two }, true)
  expect(freed.make!.valuePa).toBeCloseTo(62, 9)
  expect(freed.break!.valuePa).toBeCloseTo(47, 9)
  expect(freed.lag.valueS).toBeCloseTo(1.96, 12)
  expect(freed.lag.uS).toBeCloseTo(Math.hypot(0.02, 0.05), 12)
  expect(freed.make!.lagU).toBeCloseTo(Math.hypot(0.01, 1.6 * 0.05), 9)
  // No kick: the paces alone tell all of the lag.
  expect(freeOfHose(fit, all, { make: two, break: two }, false).make!.lagU).toBeCloseTo(1.6 * 0.05, 9)
})

test('A single trip is left as open as the lag makes it at its own pace.', () => {
  const all = trips(0, [1, 1, 4], 3, 0)
  const fit = { values: all.map(({ value }) => value), make: null, break: null } as unknown as SessionFit
  const late = { shown: null, late: { lagS: 2, pa: 4 }, early: { lagS: 0, pa: 0 } }
  const { values } = freeOfHose(fit, all, { make: late, break: late }, true)
  expect(values.map(({ open }) => open)).toEqual(
    [2, 2, 8].flatMap((pa) => [
      { lowPa: pa, highPa: 0 },
      { lowPa: 0, highPa: pa },
    ]),
  )
})
