// The rated quantity into a finding: it trips steadily at the wrong point.
import { criteria } from '../../criteria.table.ts'
import { outcomeOf } from '../outcome-of.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

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
    sight(
      'fail',
      c.run.tUs,
      `It trips steadily at ${sayPressure(c, valuePa, UPa)}, ${side} its rated ${sayPressure(c, ratedPa)} by more than the tolerance. Reject it; do not adjust a sealed switch.`,
      { valuePa, ratedPa, halfTolerancePa, scatterPa },
    ),
  ]
}
