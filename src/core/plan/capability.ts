// A part and a rig into what a test of them can decide, worked out before the test: uncertainty, acceptance interval, chances, cycles needed.
import { criteria } from '../criteria.table.ts'
import { guardBandsOf } from '../decision/acceptance.ts'
import { acceptanceInterval, type Chances, chancesAt, chancesWithin, type Ruled } from '../decision/chances.ts'
import type { LimitPa, Rating } from '../model/part.ts'
import type { RigSpec } from '../model/rig.ts'
import { hoseAtPace } from '../trips/lag/hose.ts'
import { type Allowance, type Allowances, allowancesOf } from '../uncertainty/allowance.ts'
import type { Measurand } from '../uncertainty/budget.ts'
import { isBare } from '../uncertainty/certificate.ts'
import { unstatedAt } from '../uncertainty/unstated-at.ts'
import { expectedPoints, expectTest, type TestPlan } from './expected-test.ts'
import { rampRatePaPerS } from './ramp-rate.ts'
import { type SecondCapability, secondCapability } from './second-capability.ts'

/** What a test can say of one quantity. */
export type QuantityCapability = {
  quantity: Measurand
  expectedPa: number
  uPa: number
  UPa: number
  /** Measured, not assessed: the rest is null. */
  limit: LimitPa | null
  /** Half the width of its limits over U: 2 T/(2 U) is the capability index Cm of JCGM 106:2012, 7.6. null without two limits. */
  ratio: number | null
  /** Results that pass; null where none does. One open side is null. */
  accept: LimitPa | null
  /** Chances of a part in the middle of its limits, with one limit of a part as it is expected; null without any. */
  centred: Chances | null
  /** Chances of a part that may lie anywhere between two limits; null without two. */
  anywhere: Chances | null
}

export type Capability = {
  /** `yes`: a centred good part passes at least 19 times in 20. `no`: no result could pass. */
  decides: 'yes' | 'seldom' | 'no'
  /** Why no result could pass; null where one could. */
  why:
    | 'no-acceptance-interval'
    | 'no-accuracy'
    | 'overdue'
    | 'meter-overdue'
    | 'no-ohms'
    | 'outside-certificate'
    | 'outside-scale'
    | 'two-point-certificate'
    | 'too-few-cycles'
    | 'no-limits'
    | null
  /** The quantity that decides least; null where none has limits. */
  worst: Measurand | null
  quantities: QuantityCapability[]
  cycles: {
    planned: number
    /** Fewest at which a centred good part passes 19 times in 20; null where no number is enough. */
    needed: number | null
    /** From here on U is within 5 % of what endless cycles would leave; null where hundreds are not enough. */
    enough: number | null
  }
  /** Accuracy (rectangular half-width) and digit of a manometer with which it would decide; null where it does, or where none helps. */
  manometer: { accuracyPa: number; digitPa: number } | null
  /** What would lie beside U without the faster strokes, and without the hold. */
  without: { faster: Allowances; hold: Allowances }
  /** What the manometer at the switch end can prove of the line; null without one. */
  second: SecondCapability | null
}

/** Endless cycles, for any purpose here. */
const endless = 100_000

const names = ['make', 'break', 'differential'] as const

/** What a test of this part on this rig can decide on `day` (`YYYY-MM-DD`). */
export function capabilityOf(rating: Rating, rig: RigSpec, plan: TestPlan, day: string): Capability {
  const quantities = assess(rating, rig, plan)
  const limited = quantities.filter((q) => q.limit !== null)
  const worst = worstOf(limited)
  const why = whyNot(rating, rig, plan, quantities, day)
  const blocked = why !== null && why !== 'no-acceptance-interval' && why !== 'too-few-cycles'
  const decides = why !== null ? 'no' : isDecided(limited) ? 'yes' : 'seldom'
  return {
    decides,
    why,
    worst: worst?.quantity ?? null,
    quantities,
    cycles: {
      planned: plan.cycles,
      needed: blocked ? null : neededCycles(rating, rig, plan),
      enough: enoughCycles(rating, rig, plan, worst?.quantity ?? rating.ratedOn),
    },
    manometer: decides === 'yes' || limited.length === 0 ? null : neededManometer(rating, rig, plan),
    without: leftOpen(rating, plan),
    second: secondCapability(rating, rig, day),
  }
}

/** One pace rules out no lag of the hose, and no rest at a peak no leak. */
function leftOpen(rating: Rating, plan: TestPlan): Capability['without'] {
  const slowPaPerS = rampRatePaPerS(rating, plan.contactIntervalS)
  const seen = { ...expectedPoints(rating), kickPa: null }
  return {
    faster: allowancesOf({ ...seen, hose: hoseAtPace(slowPaPerS, criteria.mostLagS), lossPaPerS: 0 }),
    hold: allowancesOf({ ...seen, hose: hoseAtPace(slowPaPerS, 0), lossPaPerS: null }),
  }
}

function whyNot(
  { maxOhm }: Rating,
  rig: RigSpec,
  plan: TestPlan,
  quantities: readonly QuantityCapability[],
  day: string,
): Capability['why'] {
  const limited = quantities.filter((q) => q.limit !== null)
  if (limited.length === 0) return 'no-limits'
  const { accuracy, calibration } = rig
  if (accuracy === null && calibration === null) return 'no-accuracy'
  if (rig.due !== null && day > rig.due) return 'overdue'
  if (maxOhm !== null && rig.meterDue !== null && day > rig.meterDue) return 'meter-overdue'
  if (!plan.tellsOhms && (maxOhm !== null || rig.pair === 'network')) return 'no-ohms'
  const points = quantities.filter((q) => q.quantity !== 'differential').map((q) => q.expectedPa)
  const unstated = unstatedAt(rig, points)
  if (unstated !== null) return unstated
  if (calibration !== null && accuracy === null && isBare(calibration)) return 'two-point-certificate'
  if (plan.cycles < criteria.fewestCycles) return 'too-few-cycles'
  return limited.some((q) => q.accept === null) ? 'no-acceptance-interval' : null
}

function assess(rating: Rating, rig: RigSpec, plan: TestPlan): QuantityCapability[] {
  const expected = expectTest(rating, rig, plan)
  return names.map((quantity) => {
    const { valuePa, uPa, UPa } = expected[quantity].estimate
    const limit = rating.limits[quantity]
    const base = { quantity, expectedPa: valuePa ?? 0, uPa: uPa ?? Infinity, UPa: UPa ?? Infinity, limit }
    if (limit === null) return { ...base, ratio: null, accept: null, centred: null, anywhere: null }
    const guards = guardBandsOf(rating.kind, quantity, rig)
    const ruled: Ruled = {
      limit: within(limit, expected[quantity].allowance),
      UPa: base.UPa,
      guardLow: guards.low,
      guardHigh: guards.high,
    }
    const { fromPa, toPa } = acceptanceInterval(ruled)
    const open = (pa: number) => (Number.isFinite(pa) ? pa : null)
    const [lowPa, highPa] = [limit.lowPa, limit.highPa]
    const two = lowPa !== null && highPa !== null
    return {
      ...base,
      ratio: two ? (highPa - lowPa) / 2 / base.UPa : null,
      accept: fromPa > toPa ? null : { lowPa: open(fromPa), highPa: open(toPa) },
      centred: chancesAt(goodPa(limit, base.expectedPa, rating.halfTolerancePa), base.uPa, ruled),
      anywhere: two ? chancesWithin(base.uPa, ruled) : null,
    }
  })
}

/** The limit drawn in by what a test is expected to leave open of hose and leak. */
function within({ lowPa, highPa }: LimitPa, open: Allowance): LimitPa {
  return { lowPa: lowPa === null ? null : lowPa + open.lowPa, highPa: highPa === null ? null : highPa - open.highPa }
}

/** Where a good part lies: the middle of two limits; with one, where it is expected, and no nearer to the limit than T. */
function goodPa({ lowPa, highPa }: LimitPa, expectedPa: number, halfTolerancePa: number): number {
  if (lowPa !== null && highPa !== null) return (lowPa + highPa) / 2
  const least = lowPa === null ? -Infinity : lowPa + halfTolerancePa
  const most = highPa === null ? Infinity : highPa - halfTolerancePa
  return Math.min(Math.max(expectedPa, least), most)
}

/** The limited quantity with the least ratio; one with a single limit only where there is no other. */
function worstOf(limited: readonly QuantityCapability[]): QuantityCapability | null {
  return limited.toSorted((a, b) => (a.ratio ?? Infinity) - (b.ratio ?? Infinity))[0] ?? null
}

function isDecided(limited: readonly QuantityCapability[]): boolean {
  return limited.every((q) => q.accept !== null && (q.centred?.pass ?? 0) >= criteria.usualPass)
}

function decidesWith(rating: Rating, rig: RigSpec, plan: TestPlan): boolean {
  return isDecided(assess(rating, rig, plan).filter((q) => q.limit !== null))
}

function neededCycles(rating: Rating, rig: RigSpec, plan: TestPlan): number | null {
  for (let cycles = criteria.fewestCycles; cycles <= criteria.plannedCycles; cycles++)
    if (decidesWith(rating, rig, { ...plan, cycles })) return cycles
  return null
}

function enoughCycles(rating: Rating, rig: RigSpec, plan: TestPlan, quantity: Measurand): number | null {
  const expandedPa = (cycles: number) => expectTest(rating, rig, { ...plan, cycles })[quantity].estimate.UPa ?? Infinity
  const leastPa = expandedPa(endless)
  for (let cycles = criteria.fewestCycles; cycles <= criteria.countedCycles; cycles++)
    if (expandedPa(cycles) <= criteria.nearLeast * leastPa) return cycles
  return null
}

/** Halvings of the accuracy that is looked for: past the last digit that anybody reads. */
const halvings = 40

/** The poorest manometer that decides this part, all else as it is. */
function neededManometer(rating: Rating, rig: RigSpec, plan: TestPlan): Capability['manometer'] {
  const digitPa = Math.min(rig.digitPa, rating.halfTolerancePa / criteria.digitsInT)
  const enough = Math.max(plan.cycles, criteria.fewestCycles)
  const decides = (accuracyPa: number) => {
    const hysteresis = rig.accuracy?.hysteresis ?? null
    const accuracy = {
      ofReading: 0,
      fullScalePa: accuracyPa,
      scalePa: Number.POSITIVE_INFINITY,
      distribution: 'rectangular' as const,
      coverage: 2,
      hysteresis,
    }
    const zeroPa = rig.zeroPa === null ? null : Math.min(rig.zeroPa, digitPa)
    return decidesWith(rating, { ...rig, accuracy, calibration: null, digitPa, zeroPa }, { ...plan, cycles: enough })
  }
  if (!decides(0)) return null
  let [good, bad] = [0, rating.ratedPa]
  for (let i = 0; i < halvings; i++) {
    const middle = (good + bad) / 2
    if (decides(middle)) good = middle
    else bad = middle
  }
  return { accuracyPa: good, digitPa }
}
