// The rated quantity into a finding: its single cycles scatter too far.
import { criteria } from '../../criteria.table.ts'
import { chiSquaredQuantile } from '../../statistics/chi-squared.ts'
import { sampleSd } from '../../statistics/mean.ts'
import { scatterName } from '../../text/scatter-name.ts'
import { ratedValues } from '../counted-trips.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

/** s of a few cycles is poorly known: it fails where the least that it may be, one-sided 97.5 %, is too much. */
export const spread: Rule = (c) => {
  const values = ratedValues(c)
  const n = values.length
  const s = sampleSd(values)
  const limitPa = criteria.spreadShare * c.setup.rating.halfTolerancePa
  if (s === null || n < criteria.spreadCycles || s <= limitPa) return []
  // ν s²/σ² is distributed as χ² with ν degrees of freedom: NIST/SEMATECH e-Handbook, 7.2.3 (from memory).
  const leastPa = s * Math.sqrt((n - 1) / chiSquaredQuantile(criteria.coverageQuantile, n - 1))
  const certain = leastPa > limitPa
  const advice = certain
    ? 'Repeat with a slower hand; if it stays reject the switch.'
    : 'It may be chance: repeat with more cycles and a slower hand; if it stays reject the switch.'
  return [
    sight(
      certain ? 'fail' : 'undecided',
      c.run.tUs,
      `The ${scatterName(n)} of single cycles is ${sayPressure(c, s)}, more than a quarter of the tolerance. ${advice}`,
      { sPa: s, leastPa, limitPa, n },
    ),
  ]
}
