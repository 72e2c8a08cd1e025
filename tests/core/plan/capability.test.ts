// What is told before a test, worked out again in other ways: the budget by hand, the chances by numerical integration.
import { describe, expect, test } from 'vitest'
import { outcome } from '../../../src/core/decision/acceptance.ts'
import { acceptanceInterval, chancesAt, chancesWithin, type Ruled } from '../../../src/core/decision/chances.ts'
import { partFileSchema, ratingOf } from '../../../src/core/model/part.ts'
import { rigFileSchema, rigSpecOf } from '../../../src/core/model/rig.ts'
import { pressureUnits } from '../../../src/core/model/units.ts'
import { capabilityOf } from '../../../src/core/plan/capability.ts'
import { rampRatePaPerS } from '../../../src/core/plan/ramp-rate.ts'
import { normalPdf } from '../../../src/core/statistics/normal.ts'
import { studentQuantile } from '../../../src/core/statistics/student.ts'
import { conformity } from '../../reference/conformity.table.ts'
import { integrate } from '../../reference/integrate.ts'
import { expectNear, expectRelative } from '../../reference/near.ts'

const { inH2O } = pressureUnits
const day = '2026-03-02'

const part = (limits: object) =>
  ratingOf(partFileSchema.parse({ kind: 'draft-proving', rated: { value: 0.25, unit: 'inH2O', on: 'make' }, limits }))
const makeOnly = part({ make: { low: 0.22, high: 0.28, unit: 'inH2O' } })
const rig = (manometer: object, more: object = {}) =>
  rigSpecOf(
    rigFileSchema.parse({
      manometer: { driver: 'ascii-line', suctionSign: 1, digit: { value: 0.001, unit: 'inH2O' }, ...manometer },
      meter: { driver: 'scpi-query', pair: 'com-no' },
      ...more,
    }),
  )
const ofFullScale = (fullScale: number) => ({
  accuracy: { ofReading: 0, ofFullScale: 0.005, fullScale: { value: fullScale, unit: 'inH2O' } },
})
const plan = { cycles: 6, scatterPa: 0.3, pressureIntervalS: 0.2, contactIntervalS: 0.2, tellsOhms: true }
const bare = rig({})

describe('the chances of a part', () => {
  test('are those whose integral over a production gives the risks of JCGM 106, 9.5.3.2', () => {
    const { inputs, recomputed, expected } = conformity['j106-resistors']
    const { TL, TU, y0, u0, um } = inputs
    const ruled: Ruled = {
      limit: { lowPa: TL, highPa: TU },
      UPa: 2 * um,
      guardLow: expected.w_over_U,
      guardHigh: expected.w_over_U,
    }
    expectNear(acceptanceInterval(ruled).fromPa, inputs.AL, 1e-9)
    expectNear(acceptanceInterval(ruled).toPa, inputs.AU, 1e-9)
    const passing = (x: number) => (chancesAt(x, um, ruled).pass * normalPdf((x - y0) / u0)) / u0
    const notPassing = (x: number) => ((1 - chancesAt(x, um, ruled).pass) * normalPdf((x - y0) / u0)) / u0
    const consumer = integrate(passing, y0 - 12 * u0, TL) + integrate(passing, TU, y0 + 12 * u0)
    expectNear(consumer, recomputed.RC, 1e-9)
    expectNear(integrate(notPassing, TL, TU), recomputed.RP, 1e-9)
  })
  test('of simple acceptance give the risks of JCGM 106, Figure 17', () => {
    const { recomputed } = conformity['j106-fig17']
    const simple: Ruled = { limit: { lowPa: -0.5, highPa: 0.5 }, UPa: 1, guardLow: 0, guardHigh: 0 }
    for (const [i, capability] of recomputed.Cm.entries()) {
      const lost = (x: number) => (1 - chancesAt(x, 1 / (4 * capability), simple).pass) * normalPdf(6 * x) * 6
      expectNear(integrate(lost, -0.5, 0.5), recomputed.RP[i]!, 1e-9)
    }
  })
  test('anywhere between the limits are the mean of the chances at each place', () => {
    const ruled: Ruled = { limit: { lowPa: 55, highPa: 70 }, UPa: 3, guardLow: 1, guardHigh: 0.5 }
    for (const u of [0.05, 1.5, 9])
      for (const word of ['pass', 'undecided', 'fail'] as const) {
        const each = (x: number) => chancesAt(x, u, ruled)[word] / 15
        expectNear(chancesWithin(u, ruled)![word], integrate(each, 55, 70), 1e-8)
      }
    expect(chancesWithin(1, { ...ruled, limit: { lowPa: 55, highPa: null } })).toBeNull()
  })
  test('are the shares that the decision itself gives to results spread by u', () => {
    const ruled: Ruled = { limit: { lowPa: 55, highPa: 70 }, UPa: 3, guardLow: 1, guardHigh: 0.5 }
    const counts = { pass: 0, undecided: 0, fail: 0 }
    const n = 20_000
    for (let i = 0; i < n; i++) {
      // Middle of each of n equal shares of the normal distribution about 57 with u = 1.5.
      const y = 57 + 1.5 * studentQuantile((i + 0.5) / n, Number.POSITIVE_INFINITY)
      counts[outcome(y, ruled.UPa, 55, 70, ruled.guardLow, ruled.guardHigh)]++
    }
    for (const word of ['pass', 'undecided', 'fail'] as const)
      expectNear(chancesAt(57, 1.5, ruled)[word], counts[word] / n, 1 / n)
  })
  test('where nothing can pass there is no negative chance: all that does not fail is undecided', () => {
    const ruled: Ruled = { limit: { lowPa: 55, highPa: 70 }, UPa: 28, guardLow: 1, guardHigh: 1 }
    const { pass, undecided, fail } = chancesWithin(14, ruled)!
    expect(pass).toBe(0)
    expectNear(undecided + fail, 1, 1e-12)
    expect(undecided).toBeGreaterThan(0.9)
  })
})

describe('the expected uncertainty', () => {
  test('of make is the budget of JCGM 100, 5.1.2 and G.4.1, summed by hand', () => {
    const bench = rig(
      { ...ofFullScale(2), zero: { value: 0.001, unit: 'inH2O' } },
      { lag: { valueS: 0.1, uS: 0.03, n: 4 } },
    )
    // Great enough that the degrees of freedom are told.
    const s = 1
    const { quantities } = capabilityOf(makeOnly, bench, { ...plan, scatterPa: s }, day)
    // The tolerance allows more, a hand does not: 2 % of 62.27 Pa.
    const slow = 0.02 * 0.25 * inH2O
    // Six slow cycles and two at 3 times their pace: a mean rate of 1.5, a mean square of 3 of the slow one.
    const rate = 1.5 * slow
    const sampled = slow * 0.2 * Math.sqrt(3 / 12)
    const gauge = (0.01 * inH2O) / Math.sqrt(3)
    const zero = (0.001 * inH2O) / Math.sqrt(3)
    const digit = (0.0005 * inH2O) / Math.sqrt(3)
    const scatter = Math.sqrt((s ** 2 + sampled ** 2) / 8)
    // The lag by the two paces, u = s·√(1/6 + 1/2)/(2·r), beside the one that the rig states.
    const byPaces = (Math.sqrt(s ** 2 + sampled ** 2) * Math.sqrt(1 / 6 + 1 / 2)) / (2 * slow)
    const lag = 1 / Math.sqrt(1 / 0.03 ** 2 + 1 / byPaces ** 2)
    const u = Math.sqrt(gauge ** 2 + zero ** 2 + digit ** 2 + scatter ** 2 + (rate * lag) ** 2)
    expectRelative(quantities[0]!.uPa, u, 1e-12)
    const dofOfScatter = 7 * (1 + (sampled / s) ** 2) ** 2
    const dof = (u ** 4 * dofOfScatter) / scatter ** 4
    expectRelative(quantities[0]!.UPa, u * studentQuantile(0.975, dof), 1e-9)
  })
  test('without a lag in the rig counts half of both intervals', () => {
    const known = rig(ofFullScale(2), { lag: { valueS: 0, uS: 0.2 } })
    const [a, b] = [known, rig(ofFullScale(2))].map(
      (bench) => capabilityOf(makeOnly, bench, plan, day).quantities[0]!.uPa,
    )
    expectRelative(a, b!, 1e-12)
  })
})

describe('at 0.25 inH2O with ±0.03', () => {
  test('a manometer of 2 in range, 0.5 % of it, decides: T/U about 2.5', () => {
    const told = capabilityOf(makeOnly, rig(ofFullScale(2)), plan, day)
    const [make] = told.quantities
    // The gauge alone leaves 0.01/√3, times 1.96: 0.0113 of 0.03.
    expectNear(make!.ratio, 0.03 / ((1.96 * 0.01) / Math.sqrt(3)), 0.15)
    expect(make!.ratio!).toBeLessThan(0.03 / ((1.96 * 0.01) / Math.sqrt(3)))
    expectNear((make!.accept!.highPa! - make!.accept!.lowPa!) / 2 / inH2O, 0.03 - make!.UPa / inH2O, 1e-12)
    expect(told).toMatchObject({ decides: 'yes', why: null, worst: 'make', manometer: null })
    expect(told.cycles.needed).toBe(5)
  })
  test('one of 20 in range cannot: no result could pass, and the accuracy that would do is named', () => {
    const bench = rig({ ...ofFullScale(20), digit: { value: 0.01, unit: 'inH2O' } })
    const told = capabilityOf(makeOnly, bench, plan, day)
    expect(told).toMatchObject({ decides: 'no', why: 'no-acceptance-interval' })
    expect(told.quantities[0]).toMatchObject({ accept: null, centred: { pass: 0 } })
    expect(told.quantities[0]!.ratio).toBeLessThan(0.3)
    // No number of cycles mends a manometer.
    expect(told.cycles.needed).toBeNull()
    const needed = told.manometer!
    const better = (half: number) =>
      capabilityOf(
        makeOnly,
        rig({
          accuracy: {
            ofReading: 0,
            ofFullScale: (half * needed.accuracyPa) / 500,
            fullScale: { value: 500, unit: 'Pa' },
          },
          digit: { value: needed.digitPa, unit: 'Pa' },
        }),
        plan,
        day,
      ).decides
    expect([better(0.999), better(1.001)]).toEqual(['yes', 'seldom'])
  })
  test('corrected by a certificate of U = 0.002 in the same manometer decides twice as sharply', () => {
    const points = [0, 0.2, 0.4].map((reading) => ({ reading, correction: 0, U: 0.002 }))
    const told = capabilityOf(
      makeOnly,
      rig({ ...ofFullScale(2), calibration: { unit: 'inH2O', points, drift: 0.001 } }),
      plan,
      day,
    )
    expect(told.quantities[0]!.ratio!).toBeGreaterThan(5)
    expect(told.decides).toBe('yes')
  })
  test('no part passes where T/U is 1, and 95 % of those in the middle where it is 2', () => {
    // P(|error| ≤ T − U) for a centred part, error normal: none at T = U, Φ(±1.96) at T = 2 U.
    const chance = (T: number) =>
      chancesAt(0, 1, { limit: { lowPa: -T, highPa: T }, UPa: 1.96, guardLow: 1, guardHigh: 1 })
    expectNear(chance(1.96).pass, 0, 1e-12)
    expectNear(chance(2 * 1.96).pass, 0.95, 1e-4)
  })
})

describe('more cycles', () => {
  const noisy = { ...plan, scatterPa: 5 }
  test('help where the scatter is great, until the rest of the budget stands alone', () => {
    const bench = rig(ofFullScale(2))
    const told = capabilityOf(makeOnly, bench, noisy, day)
    expect(told.decides).not.toBe('yes')
    const needed = told.cycles.needed!
    const at = (cycles: number) => capabilityOf(makeOnly, bench, { ...noisy, cycles }, day)
    expect([at(needed - 1).decides, at(needed).decides]).toEqual(['seldom', 'yes'])
    const least = at(1e5).quantities[0]!.UPa
    expect(at(told.cycles.enough!).quantities[0]!.UPa).toBeLessThanOrEqual(1.05 * least)
    expect(at(told.cycles.enough! - 1).quantities[0]!.UPa).toBeGreaterThan(1.05 * least)
  })
  test('do not where the gauge rules: five are enough', () => {
    expect(capabilityOf(makeOnly, rig(ofFullScale(2)), plan, day).cycles.enough).toBe(5)
  })
})

describe('nothing is promised', () => {
  test.each([
    ['no-limits', part({}), rig(ofFullScale(2)), plan],
    ['no-accuracy', makeOnly, bare, plan],
    ['overdue', makeOnly, rig({ ...ofFullScale(2), identity: { due: '2026-03-01' } }), plan],
    ['too-few-cycles', makeOnly, rig(ofFullScale(2)), { ...plan, cycles: 4 }],
    ['meter-overdue', { ...makeOnly, maxOhm: 2 }, { ...rig(ofFullScale(2)), meterDue: '2026-03-01' }, plan],
    ['no-ohms', { ...makeOnly, maxOhm: 2 }, rig(ofFullScale(2)), { ...plan, tellsOhms: false }],
    ['no-ohms', makeOnly, { ...rig(ofFullScale(2)), pair: 'network' }, { ...plan, tellsOhms: false }],
    [
      'two-point-certificate',
      makeOnly,
      rig({
        calibration: {
          unit: 'inH2O',
          drift: 0,
          points: [
            { reading: 0, correction: 0, U: 0 },
            { reading: 1, correction: 0, U: 0.001 },
          ],
        },
      }),
      plan,
    ],
    [
      'outside-certificate',
      makeOnly,
      rig({
        calibration: {
          unit: 'inH2O',
          drift: 0,
          points: [
            { reading: 0, correction: 0, U: 0 },
            { reading: 0.2, correction: 0, U: 0.001 },
          ],
        },
      }),
      plan,
    ],
  ] as const)('where the reason is %s', (why, rating, bench, planned) => {
    const told = capabilityOf(rating, bench, planned, day)
    expect(told).toMatchObject({ decides: 'no', why })
    if (why !== 'too-few-cycles') expect(told.cycles.needed).toBeNull()
  })
  test('a meter that tells no ohms is enough where none are limited', () => {
    expect(capabilityOf(makeOnly, rig(ofFullScale(2)), { ...plan, tellsOhms: false }, day).why).toBeNull()
  })
  test('the last day of a certificate still counts', () => {
    const bench = rig({ ...ofFullScale(2), identity: { due: day } })
    expect(capabilityOf(makeOnly, bench, plan, day).why).toBeNull()
  })
})

test('a differential is planned with what rise and fall leave open: a manometer that states little of it decides more', () => {
  const uOf = (hysteresis?: number) => {
    const { accuracy } = ofFullScale(2)
    const told = capabilityOf(makeOnly, rig({ accuracy: { ...accuracy, hysteresis } }), plan, day)
    return told.quantities[2]!.uPa
  }
  // 0.5 % of 2 inH2O, twice the whole of it where nothing is stated, is 0.02 inH2O as a rectangle.
  expectRelative(uOf() ** 2 - uOf(0) ** 2, (0.02 * 249.08891) ** 2 / 3, 1e-9)
  expect(uOf(0.1)).toBeLessThan(uOf())
})

test('a single limit is open on the other side, and a gauge that reaches past the expected break does not decide it', () => {
  const rating = part({ break: { low: 0.15, high: null, unit: 'inH2O' } })
  const good = capabilityOf(rating, rig(ofFullScale(2)), plan, day)
  expect(good.quantities[1]!.accept!.highPa).toBeNull()
  expect(good).toMatchObject({ decides: 'yes', worst: 'break' })
  const poor = capabilityOf(rating, rig(ofFullScale(20)), plan, day)
  expect(poor.decides).toBe('seldom')
  expect(poor.quantities[1]!.centred!.pass).toBeLessThan(0.5)
})

test('the ramp is as fast as sampling may cost 5 % of T, and no faster than a hand is steady', () => {
  expectRelative(rampRatePaPerS({ halfTolerancePa: 7.5, ratedPa: 1000 }, 0.5), 2.598, 1e-3)
  expectRelative(rampRatePaPerS({ halfTolerancePa: 7.5, ratedPa: 62 }, 0.5), 1.24, 1e-12)
})

test('without the faster strokes the longest lag is open at the slow pace, without the hold a tenth for a leak', () => {
  const { without } = capabilityOf(makeOnly, rig(ofFullScale(2)), plan, day)
  const lagPa = 3 * rampRatePaPerS(makeOnly, plan.contactIntervalS)
  expect(without.faster.make.lowPa).toBeCloseTo(lagPa, 9)
  expect(without.faster.break.highPa).toBeCloseTo(lagPa, 9)
  expect(without.faster.differential.lowPa).toBeCloseTo(2 * lagPa, 9)
  expect(without.hold.make.lowPa).toBeCloseTo(0.025 * inH2O, 9)
  expect(without.hold.differential.lowPa).toBe(0)
})
