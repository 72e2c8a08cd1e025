// Estimates against the part's limits: guarded acceptance for each, and the plain limits that no single stroke may break.
import { criteria } from '../criteria.table.ts'
import type { LimitPa, Rating } from '../model/part.ts'
import type { LimitResult, Outcome } from '../model/result.ts'
import type { RigSpec } from '../model/rig.ts'
import { fitLine } from '../statistics/line.ts'
import type { TripValue } from '../trips/trip-moment.ts'
import type { Measurand, Measured } from '../uncertainty/budget.ts'
import type { MeasuredContact } from '../uncertainty/contact.ts'
import type { HighContact } from '../uncertainty/high-contact.ts'
import { ownInterval, widened } from '../uncertainty/single-trip.ts'
import { conformanceProbability, guardBandsOf, outcome } from './acceptance.ts'

type Name = LimitResult['name']

function entry(name: Name, limit: LimitPa | null, decided: Outcome, conformance: number | null): LimitResult {
  return { name, lowPa: limit?.lowPa ?? null, highPa: limit?.highPa ?? null, outcome: decided, conformance }
}

/**
 * Outcome of one quantity. `singles` = its used trips: one whose whole interval lies outside a plain limit, widened by what
 * manometer, zero, lag, hose and its own ramp leave open, fails the part, whatever the mean says.
 */
export function judgeQuantity(
  quantity: Measurand,
  measured: Measured,
  rating: Rating,
  rig: RigSpec,
  singles: readonly TripValue[],
): LimitResult {
  const limit = rating.limits[quantity]
  if (limit === null) return entry(quantity, null, 'not-assessed', null)
  const { valuePa, uPa, UPa, dof } = measured.estimate
  const broken = singles.some((v) => plainOutcome(v, limit, measured) === 'fail')
  if (valuePa === null || uPa === null || UPa === null)
    return entry(quantity, limit, broken ? 'fail' : 'undecided', null)
  const guards = guardBandsOf(rating.kind, quantity, rig)
  const decided = outcome(valuePa, UPa, limit.lowPa, limit.highPa, guards.low, guards.high, measured.allowance)
  const conformance = conformanceProbability(valuePa, uPa, limit.lowPa, limit.highPa, dof)
  return entry(quantity, limit, broken ? 'fail' : decided, conformance)
}

/**
 * Outcome of one quantity where nothing that was fitted counts: a fail where all that the raw readings allow (`bracket`) lies
 * outside the limit with its guard, else undecided.
 */
export function judgeBracket(
  quantity: Measurand,
  bracket: { lowPa: number; highPa: number } | null,
  measured: Measured,
  rating: Rating,
  rig: RigSpec,
): LimitResult {
  const limit = rating.limits[quantity]
  if (limit === null) return entry(quantity, null, 'not-assessed', null)
  const { UPa } = measured.estimate
  if (bracket === null || UPa === null) return entry(quantity, limit, 'undecided', null)
  const guards = guardBandsOf(rating.kind, quantity, rig)
  const { lowPa, highPa } = measured.allowance
  const allow = { lowPa, highPa: highPa + bracket.highPa - bracket.lowPa }
  const decided = outcome(bracket.lowPa, UPa, limit.lowPa, limit.highPa, guards.low, guards.high, allow)
  return entry(quantity, limit, decided === 'fail' ? 'fail' : 'undecided', null)
}

/** A single trip against plain limits: its whole interval inside = pass, its widened one outside = fail, else undecided. */
function plainOutcome(value: TripValue, limit: LimitPa, measured: Measured): Outcome {
  const low = limit.lowPa ?? Number.NEGATIVE_INFINITY
  const high = limit.highPa ?? Number.POSITIVE_INFINITY
  // What hose and leak may hide is alike in all trips: the mean is held against it. Here it only keeps a trip from failing.
  const wide = widened(value, measured)
  if (wide.highPa < low || wide.lowPa > high) return 'fail'
  const own = ownInterval(value, measured)
  return own.lowPa >= low && own.highPa <= high ? 'pass' : 'undecided'
}

/** Outcome of the first stroke; `value` null = it had no such edge, which decides nothing. Too fast for the instruments, it fails no part. */
export function judgeFirst(
  transition: 'make' | 'break',
  value: TripValue | null,
  measured: Measured,
  rating: Rating,
  tooFast: boolean,
): LimitResult {
  const limit = rating.limits[transition]
  const name = transition === 'make' ? 'first-make' : 'first-break'
  if (limit === null) return entry(name, null, 'not-assessed', null)
  const decided = value === null ? 'undecided' : plainOutcome(value, limit, measured)
  return entry(name, limit, decided === 'fail' && tooFast ? 'undecided' : decided, null)
}

/**
 * Outcome of the contact resistance, ohm, guarded as a quantity whose high side is dangerous. Each closure is held against
 * the plain limit: one wholly above it fails, one that straddles it is undecided; so is a trend that reaches it before the
 * session ends. `high`: what single readings above it say, which a median hides. The network hides the resistance, and an overdue meter tells nothing: not assessed.
 */
export function judgeContact(
  contact: MeasuredContact,
  high: HighContact | null,
  rating: Rating,
  rig: RigSpec,
  overdue: boolean,
): LimitResult {
  const { maxOhm } = rating
  if (maxOhm === null) return entry('contact', null, 'not-assessed', null)
  const limit = { lowPa: null, highPa: maxOhm }
  if (overdue || rig.pair === 'network') return entry('contact', limit, 'not-assessed', null)
  const { medianOhm, uOhm, UOhm, dof, closuresOhm, instrumentUOhm } = contact
  const widenOhm = criteria.coverageFactor * instrumentUOhm
  if (high?.outcome === 'fail' || closuresOhm.some((ohm) => ohm - widenOhm > maxOhm))
    return entry('contact', limit, 'fail', null)
  if (medianOhm === null || uOhm === null || UOhm === null) return entry('contact', limit, 'undecided', null)
  // The differential is dangerous on both sides: its high guard is that of any dangerous high side.
  const guard = guardBandsOf(rating.kind, 'differential', rig).high
  const decided = outcome(medianOhm, UOhm, null, maxOhm, 0, guard)
  const doubtful =
    high?.outcome === 'undecided' ||
    closuresOhm.some((ohm) => ohm + widenOhm > maxOhm) ||
    lastByTrend(closuresOhm) + guard * UOhm > maxOhm
  const conformance = conformanceProbability(medianOhm, uOhm, null, maxOhm, dof)
  return entry('contact', limit, decided === 'pass' && doubtful ? 'undecided' : decided, conformance)
}

/** Where a rising straight line through the closures ends, ohm; −∞ where too few tell, or where it does not rise. */
function lastByTrend(closuresOhm: readonly number[]): number {
  const n = closuresOhm.length
  const line =
    n < criteria.trendCycles
      ? null
      : fitLine(
          closuresOhm.map((_, i) => i),
          closuresOhm,
        )
  return line !== null && line.slope > 0 ? line.intercept + line.slope * (n - 1) : Number.NEGATIVE_INFINITY
}
