// The rated quantity into a finding: its single cycles scatter too far.
import { criteria } from '../../criteria.table.ts'
import { scatterName } from '../../text/scatter-name.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

export const spread: Rule = (c) => {
  const { ratedOn, halfTolerancePa } = c.setup.rating
  const { scatterPa, n } = c.measured[ratedOn].estimate
  const limitPa = criteria.spreadShare * halfTolerancePa
  if (scatterPa === null || n < criteria.spreadCycles || scatterPa <= limitPa) return []
  return [
    sight(
      'fail',
      c.run.tUs,
      `The ${scatterName(n)} of single cycles is ${sayPressure(c, scatterPa)}, more than a quarter of the tolerance. Repeat with a slower hand; if it stays reject the switch.`,
      { scatterPa, limitPa, n },
    ),
  ]
}
