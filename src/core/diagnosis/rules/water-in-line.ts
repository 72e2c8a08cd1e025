// The vented manometer into a finding: it shows an offset.
import { criteria } from '../../criteria.table.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

/** An offset with both ends vented: water in the hose, or a manometer that was not zeroed. */
export const waterInLine: Rule = (c) => {
  const limitPa = criteria.offsetShare * c.setup.rating.ratedPa
  // A zero that was right at first and moved since is another finding.
  const rest = c.zero.before ?? c.zero.after
  if (!rest || Math.abs(rest.meanPa) <= limitPa) return []
  return [
    sight(
      'void',
      rest.tUs,
      `Vented, the manometer shows ${sayPressure(c, rest.meanPa)}. Drain and dry the hose, zero the manometer, and start again.`,
      { offsetPa: rest.meanPa, limitPa },
    ),
  ]
}
