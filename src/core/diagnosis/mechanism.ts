// What makes and breaks show of the mechanism: off its rating, scattered, weakening, sticky, dropping out too late.
import { criteria } from '../criteria.table.ts'
import { fitLine } from '../statistics/line.ts'
import { studentQuantile } from '../statistics/student.ts'
import { scatterName } from '../text/scatter-name.ts'
import { type Case, finding, type Rule, sayPressure } from './finding.ts'

const outcomeOf = (c: Case, name: string) => c.limits.find((l) => l.name === name)?.outcome

function ratedValues(c: Case): number[] {
  const { ratedOn } = c.setup.rating
  return c.cycles
    .filter((cycle) => cycle.used)
    .flatMap((cycle) => (ratedOn === 'make' ? cycle.makeValue : cycle.breakValue)?.valuePa ?? [])
}

/** Drops out far too late: it would hold on a draft that is nearly gone. */
export const breaksLow: Rule = (c) => {
  const { valuePa: back, UPa } = c.measured.break.estimate
  const make = c.measured.make.estimate.valuePa
  const limit = c.setup.rating.limits.break
  if (back === null || make === null) return []
  const belowLimit = outcomeOf(c, 'break') === 'fail' && limit?.lowPa != null && back < limit.lowPa
  const share = (make - back) / make
  if (!belowLimit && share <= criteria.lateBreakShare) return []
  return [
    finding(
      'breaks-low',
      'fail',
      c.cycles.find((cycle) => cycle.used)?.break?.hiUs ?? c.run.tUs,
      `It breaks only at ${sayPressure(c, back, UPa)}: it would not drop out on a weak draft. Reject it for proving duty.`,
      { breakPa: back, lowPa: limit?.lowPa ?? null, differentialOverMake: share },
    ),
  ]
}

/** Tight scatter about the wrong mean. */
export const offRating: Rule = (c) => {
  const { ratedOn, ratedPa, halfTolerancePa, limits } = c.setup.rating
  const { valuePa, UPa, scatterPa } = c.measured[ratedOn].estimate
  if (valuePa === null || UPa === null || scatterPa === null) return []
  // Inside the guard the limits say undecided; a finding is no back door around them.
  const off =
    limits[ratedOn] === null ? Math.abs(valuePa - ratedPa) > halfTolerancePa + UPa : outcomeOf(c, ratedOn) === 'fail'
  if (!off || scatterPa >= criteria.steadyScatterShare * ratedPa || Math.abs(valuePa - ratedPa) <= halfTolerancePa)
    return []
  const side = valuePa > ratedPa ? 'above' : 'below'
  return [
    finding(
      'off-rating',
      'fail',
      c.run.tUs,
      `It trips steadily at ${sayPressure(c, valuePa, UPa)}, ${side} its rated ${sayPressure(c, ratedPa)} by more than the tolerance. Reject it; do not adjust a sealed switch.`,
      { valuePa, ratedPa, halfTolerancePa, scatterPa },
    ),
  ]
}

export const spread: Rule = (c) => {
  const { ratedOn, halfTolerancePa } = c.setup.rating
  const { scatterPa, n } = c.measured[ratedOn].estimate
  const limitPa = criteria.spreadShare * halfTolerancePa
  if (scatterPa === null || n < criteria.spreadCycles || scatterPa <= limitPa) return []
  return [
    finding(
      'spread',
      'fail',
      c.run.tUs,
      `The ${scatterName(n)} of single cycles is ${sayPressure(c, scatterPa)}, more than a quarter of the tolerance. Repeat with a slower hand; if it stays reject the switch.`,
      { scatterPa, limitPa, n },
    ),
  ]
}

/** A trend over the cycles: warm-up, a leak or a relaxing spring. */
export const weakening: Rule = (c) => {
  const values = ratedValues(c)
  const n = values.length
  if (n < criteria.trendCycles) return []
  const line = fitLine(
    values.map((_, i) => i),
    values,
  )
  if (!line) return []
  const { slope, uSlope } = line
  const drift = Math.abs(slope) * n
  const beyondChance = Math.abs(slope) > studentQuantile(criteria.trendProbability, n - 2) * uSlope
  if (!beyondChance || !(drift > criteria.trendShare * c.setup.rating.halfTolerancePa)) return []
  return [
    finding(
      'weakening',
      'undecided',
      c.run.tUs,
      `The trip point moves by ${sayPressure(c, slope, studentQuantile(0.975, n - 2) * uSlope)} a cycle. Stop, let switch and bench settle, look for a leak; if it goes on the spring is relaxing: reject.`,
      { slopePaPerCycle: slope, uSlopePa: uSlope, n },
    ),
  ]
}

/** The first make after rest stands above the later ones: the appliance meets the first stroke at every start. */
export const stickyFirstStroke: Rule = (c) => {
  const first = c.cycles[0]?.makeValue
  const rest = c.cycles.filter((cycle) => cycle.used).flatMap((cycle) => cycle.makeValue?.valuePa ?? [])
  const n = rest.length + 1
  // Trips that fall from stroke to stroke begin high: that is the trend's finding.
  if (!first || rest.length < criteria.stickyCycles || weakening(c).length > 0) return []
  const mean = rest.reduce((a, b) => a + b, 0) / rest.length
  const s = c.measured.make.estimate.scatterPa ?? 0
  const limitPa = studentQuantile(criteria.stickyQuantile, n - 2) * s * Math.sqrt(1 + 1 / (n - 1))
  const excess = first.valuePa - mean
  if (!(excess > limitPa && excess > criteria.stickyShare * c.setup.rating.ratedPa)) return []
  const restS = c.setup.start.conditions?.restS ?? null
  const known = restS === null ? ' How long it had rested was not stated.' : ''
  return [
    finding(
      'sticky-first-stroke',
      outcomeOf(c, 'first-make') === 'fail' ? 'fail' : 'undecided',
      c.cycles[0]?.make?.hiUs ?? c.run.tUs,
      `The first stroke made ${sayPressure(c, excess)} higher than the later ones.${known} Let it rest 8 h and repeat; if it returns reject the switch.`,
      { excessPa: excess, limitPa, restS, n },
    ),
  ]
}
