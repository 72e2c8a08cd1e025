import { describe, expect, test } from 'vitest'
import { analyse } from '../../../src/core/analyse.ts'
import { judgeFirst, judgeQuantity } from '../../../src/core/decision/limits.ts'
import { judge } from '../../../src/core/judge.ts'
import type { LimitPa, Rating } from '../../../src/core/model/part.ts'
import type { RigSpec } from '../../../src/core/model/rig.ts'
import type { TripValue } from '../../../src/core/trips/trip-moment.ts'
import { proved } from '../../../src/core/uncertainty/allowance.ts'
import type { Measured } from '../../../src/core/uncertainty/budget.ts'
import { foldEvents, sealRun } from '../../harness/fold-events.ts'
import { sampleRating } from '../../harness/sample-rating.ts'
import { sampleRig } from '../../harness/sample-rig.ts'
import { found, session } from '../diagnosis/sessions.ts'

const estimate = { valuePa: 62, uPa: 0.5, UPa: 1, k: 2, dof: null, n: 6, scatterPa: 0.3, allowLowPa: 0, allowHighPa: 0 }
const measuredAt = (valuePa: number | null, instrumentU = 0.4): Measured => ({
  estimate: { ...estimate, valuePa },
  budget: [],
  instrumentU,
  lagUs: 0,
  allowance: proved.make,
})

type Case = { kind?: Rating['kind']; quantity?: 'make' | 'break' | 'differential'; rig?: Partial<RigSpec> }

function outcomeOf(valuePa: number, limit: LimitPa, { kind = 'draft-proving', quantity = 'make', rig }: Case = {}) {
  const rating = { ...sampleRating, kind, limits: { ...sampleRating.limits, [quantity]: limit } }
  return judgeQuantity(quantity, measuredAt(valuePa), rating, { ...sampleRig, ...rig }, []).outcome
}

const both = { lowPa: 55, highPa: 70 }

describe('Guarded by U on both sides, a value', () => {
  test('passes inside the limits drawn in by U', () => {
    expect([56, 60, 69].map((y) => outcomeOf(y, both))).toEqual(['pass', 'pass', 'pass'])
  })
  test('is undecided within U of a limit', () => {
    expect([54, 55, 55.9, 69.1, 70, 71].map((y) => outcomeOf(y, both))).toEqual(Array(6).fill('undecided'))
  })
  test('fails beyond it', () => {
    expect([53.9, 71.1].map((y) => outcomeOf(y, both))).toEqual(['fail', 'fail'])
  })
})

describe('A limit on one side only', () => {
  test('has no other side to be guarded', () => {
    const low = { lowPa: 55, highPa: null }
    expect([53.9, 55.5, 56, 1e6].map((y) => outcomeOf(y, low))).toEqual(['fail', 'undecided', 'pass', 'pass'])
    const high = { lowPa: null, highPa: 70 }
    expect([-1e6, 69, 69.5, 71.1].map((y) => outcomeOf(y, high))).toEqual(['pass', 'pass', 'undecided', 'fail'])
  })
})

describe('The guard factor', () => {
  test('widens the guard on both sides', () => {
    const rig = { guardFactor: 2 }
    expect([56.5, 57, 68, 68.5].map((y) => outcomeOf(y, both, { rig }))).toEqual([
      'undecided',
      'pass',
      'pass',
      'undecided',
    ])
  })
  test('below 1 narrows it, but never on the unsafe side: low for draft-proving', () => {
    const rig = { guardFactor: 0.5 }
    expect([55.9, 56, 69.5, 69.6].map((y) => outcomeOf(y, both, { rig }))).toEqual([
      'undecided',
      'pass',
      'pass',
      'undecided',
    ])
  })
})

describe('The simple rule', () => {
  const rig = { rule: 'simple' as const, guardFactor: 3 }
  test('has no guard on the safe side and a full one on the unsafe side', () => {
    expect([53.9, 55.5, 56, 70, 70.01].map((y) => outcomeOf(y, both, { rig }))).toEqual([
      'fail',
      'undecided',
      'pass',
      'pass',
      'fail',
    ])
  })
  test('has its unsafe side high for a blockage switch, at make and at break', () => {
    for (const quantity of ['make', 'break'] as const) {
      const outcomes = [54.99, 55, 69, 69.5, 71.1].map((y) => outcomeOf(y, both, { rig, kind: 'blockage', quantity }))
      expect(outcomes).toEqual(['fail', 'pass', 'pass', 'undecided', 'fail'])
    }
  })
  test('guards the differential on both sides', () => {
    const outcomes = [55.5, 56, 69, 69.5].map((y) => outcomeOf(y, both, { rig, quantity: 'differential' }))
    expect(outcomes).toEqual(['undecided', 'pass', 'pass', 'undecided'])
  })
})

test('Without a limit nothing is assessed; without a value nothing is decided.', () => {
  expect(judgeQuantity('make', measuredAt(62), sampleRating, sampleRig, [])).toEqual({
    name: 'make',
    lowPa: null,
    highPa: null,
    outcome: 'not-assessed',
    conformance: null,
  })
  const rating = { ...sampleRating, limits: { ...sampleRating.limits, make: both } }
  const unknown = { ...measuredAt(null), estimate: { ...estimate, valuePa: null, uPa: null, UPa: null } }
  expect(judgeQuantity('make', unknown, rating, sampleRig, [])).toMatchObject({
    outcome: 'undecided',
    conformance: null,
  })
})

const trip = (loPa: number, hiPa: number): TripValue => ({
  valuePa: (loPa + hiPa) / 2,
  loPa,
  hiPa,
  sdPa: (hiPa - loPa) / Math.sqrt(12),
  ratePaPerS: 1,
  seen: { tS: 0, shownPa: (loPa + hiPa) / 2 },
  takenPa: 0,
  open: { lowPa: 0, highPa: 0 },
})

describe('A single used cycle', () => {
  const rating = { ...sampleRating, limits: { ...sampleRating.limits, make: both } }
  const withSingle = (single: TripValue, instrumentU = 0.4) =>
    judgeQuantity('make', measuredAt(62, instrumentU), rating, sampleRig, [trip(61.9, 62.1), single]).outcome

  // Widened by 2 × the gauge's standard uncertainty, 0.8 Pa.
  test('wholly outside a plain limit fails the part whatever the mean says', () => {
    expect(withSingle(trip(70.9, 71.5))).toBe('fail')
    expect(withSingle(trip(53, 54.1))).toBe('fail')
  })
  test('fails only beyond what its own ramp and the lag leave open', () => {
    expect(withSingle({ ...trip(72, 73), sdPa: 2 })).toBe('pass')
    expect(withSingle({ ...trip(75, 76), sdPa: 2 })).toBe('fail')
    const late = (ratePaPerS: number) =>
      judgeQuantity('make', { ...measuredAt(62), lagUs: 0.1 }, rating, sampleRig, [{ ...trip(72, 73), ratePaPerS }])
    expect([1, 30].map((rate) => late(rate).outcome)).toEqual(['fail', 'pass'])
  })
  test('that only straddles it changes nothing', () => {
    expect(withSingle(trip(69.9, 71.5))).toBe('pass')
    expect(withSingle(trip(70.7, 71.5))).toBe('pass')
    expect(withSingle(trip(54.3, 55.5))).toBe('pass')
  })
  test('fails in a session: one of six beyond the limit', () => {
    const limits = { make: { low: 0.22, high: 0.28, unit: 'inH2O' } }
    const shiftPa = (stroke: number) => (stroke === 3 ? 18 : 0)
    const wild = session({ cycles: 6, scatterPa: 0.1, part: { limits }, peakPa: 100, shiftPa })
    const result = judge(analysisOf(wild.events))
    expect(result.limits[0]).toMatchObject({ name: 'make', outcome: 'fail' })
    expect(result.verdict).toBe('fail')
  })
})

describe('The first stroke', () => {
  const rating = { ...sampleRating, limits: { ...sampleRating.limits, make: both, break: { lowPa: 40, highPa: null } } }
  const first = (value: TripValue | null) => judgeFirst('make', value, measuredAt(62), rating, false).outcome
  test('passes wholly inside the plain limits, widened by the gauge', () => {
    expect(first(trip(55.9, 69.1))).toBe('pass')
    expect(first(trip(60, 61))).toBe('pass')
  })
  test('is undecided where it straddles one', () => {
    expect(first(trip(55.5, 56))).toBe('undecided')
    expect(first(trip(69.5, 70.5))).toBe('undecided')
    expect(first(trip(70.5, 71))).toBe('undecided')
  })
  test('fails wholly outside', () => {
    expect(first(trip(70.9, 71))).toBe('fail')
    expect(judgeFirst('break', trip(38, 39), measuredAt(47), rating, false)).toMatchObject({
      name: 'first-break',
      outcome: 'fail',
    })
  })
  test('fails by no pressure that went too fast for the instruments', () => {
    const fast = (value: TripValue) => judgeFirst('make', value, measuredAt(62), rating, true).outcome
    expect([trip(70.9, 71), trip(60, 61)].map(fast)).toEqual(['undecided', 'pass'])
  })
  test('fails by no pressure that the lag leaves open at its pace', () => {
    expect(first({ ...trip(70.9, 71), open: { lowPa: 2, highPa: 0 } })).toBe('undecided')
    expect(first({ ...trip(70.9, 71), open: { lowPa: 0, highPa: 2 } })).toBe('fail')
  })
  test('that has no such edge decides nothing; without a limit it is not assessed', () => {
    expect(first(null)).toBe('undecided')
    expect(judgeFirst('make', trip(1, 2), measuredAt(62), sampleRating, false).outcome).toBe('not-assessed')
  })
})

function analysisOf(events: readonly object[]) {
  const run = sealRun(foldEvents(events))
  return analyse(run, run.setup!)
}

describe('In a whole session', () => {
  const analysis = analysisOf(session({ cycles: 6 }).events)
  const { valuePa, UPa } = analysis.measured.make.estimate as { valuePa: number; UPa: number }
  const decide = (make: LimitPa, kind: Rating['kind'] = 'draft-proving', rig: Partial<RigSpec> = {}) => {
    const { setup } = analysis
    const rating = { ...setup.rating, kind, limits: { make, break: null, differential: null } }
    const measured = { ...analysis.measured, make: { ...analysis.measured.make, allowance: proved.make } }
    return judge({ ...analysis, measured, setup: { ...setup, rating, rig: { ...setup.rig, ...rig } } }).limits[0]
      ?.outcome
  }

  test('asymmetric limits decide each on its own side', () => {
    expect(decide({ lowPa: valuePa - 30, highPa: valuePa + 1.05 * UPa })).toBe('pass')
    expect(decide({ lowPa: valuePa - 30, highPa: valuePa + 0.95 * UPa })).toBe('undecided')
    expect(decide({ lowPa: valuePa + 1.05 * UPa, highPa: null })).toBe('fail')
    expect(decide({ lowPa: null, highPa: valuePa - 0.5 * UPa })).toBe('undecided')
  })
  test('a blockage switch is guarded high under the simple rule, a proving switch low', () => {
    const limit = { lowPa: valuePa - 0.5 * UPa, highPa: valuePa + 2 * UPa }
    const rig = { rule: 'simple' as const }
    expect(decide(limit, 'draft-proving', rig)).toBe('undecided')
    expect(decide(limit, 'blockage', rig)).toBe('pass')
    const mirrored = { lowPa: valuePa - 2 * UPa, highPa: valuePa + 0.5 * UPa }
    expect(decide(mirrored, 'blockage', rig)).toBe('undecided')
  })
  test('the conformance printed is the probability of the limits', () => {
    const { setup } = analysis
    const make = { lowPa: valuePa, highPa: null }
    const rating = { ...setup.rating, limits: { make, break: null, differential: null } }
    const [limit] = judge({ ...analysis, setup: { ...setup, rating } }).limits
    expect(limit?.conformance).toBeCloseTo(0.5, 9)
  })
  test('a first stroke that straddles a limit leaves the part undecided, with no other finding', () => {
    const straddling = session({ cycles: 6, scatterPa: 0.8, shiftPa: (s) => (s === 0 ? 7.9 : 3.5) })
    const result = judge(analysisOf(straddling.events))
    expect(result.limits.find((l) => l.name === 'first-make')?.outcome).toBe('undecided')
    expect(result.verdict).not.toBe('pass')
    expect(found(straddling).every(([, effect]) => effect !== 'void')).toBe(true)
  })
})

describe('The budget', () => {
  const { measured, fit } = analysisOf(session({ cycles: 6 }).events)
  test('adds up to u, and k·u is U', () => {
    for (const quantity of ['make', 'break', 'differential'] as const) {
      const { estimate: e, budget } = measured[quantity]
      expect(Math.hypot(...budget.map((line) => line.uPa))).toBeCloseTo(e.uPa!, 12)
      expect(e.k! * e.uPa!).toBeCloseTo(e.UPa!, 12)
      expect(e.k).toBeGreaterThan(1.95)
    }
  })
  // Accuracy 0.25 % of 2 inH2O, normal with k = 2; digit rectangular over 0.001 inH2O.
  test('has the gauge and the digit of the rig file', () => {
    const line = (component: string) => measured.make.budget.find((l) => l.component === component)!
    expect(line('gauge').uPa).toBeCloseTo((0.0025 * 2 * 249.08891) / 2, 6)
    expect(line('digit').uPa).toBeCloseTo((0.001 * 249.08891) / Math.sqrt(12), 6)
  })
  // gain · D, with the gain that the accuracy at the make may be.
  test('of the differential has no offset of the gauge and no zero: they cancel, and a gain keeps its share', () => {
    const components = measured.differential.budget.map((l) => l.component)
    expect(components).not.toContain('zero')
    const gain = (0.0025 * 2 * 249.08891) / fit!.make!.valuePa
    const gauge = measured.differential.budget.find((l) => l.component === 'gauge')!
    expect(gauge.uPa).toBeCloseTo((gain * measured.differential.estimate.valuePa!) / 2, 9)
    expect(measured.differential.estimate.valuePa).toBeCloseTo(fit!.make!.valuePa - fit!.break!.valuePa, 9)
  })
  test('always holds the rate times the lag that is open', () => {
    for (const quantity of ['make', 'break'] as const) {
      const lag = measured[quantity].budget.find((l) => l.component === 'lag')!
      expect(lag.uPa).toBeGreaterThanOrEqual(1.9 * fit!.lag.uS)
    }
  })
})
