// The rated quantity into a finding: its single cycles scatter too far.
import { criteria } from '../../criteria.table.ts'
import { pressureAt } from '../../signal/pressure-track.ts'
import { chiSquaredQuantile } from '../../statistics/chi-squared.ts'
import { sampleSd } from '../../statistics/mean.ts'
import { scatterName } from '../../text/scatter-name.ts'
import { ratedValues } from '../counted-trips.ts'
import { type Case, type Rule, sayPressure, sight } from '../rule.ts'

/**
 * s of a few cycles is poorly known: it fails where the least that it may be, one-sided 97.5 %, is too much. A kick that dates some trips
 * wrongly scatters them too: so it fails only where the contact alone shows it as well, whatever lag all of them share.
 */
export const spread: Rule = (c) => {
  const values = ratedValues(c)
  const n = values.length
  const s = sampleSd(values)
  const limitPa = criteria.spreadShare * c.setup.rating.halfTolerancePa
  if (s === null || n < criteria.spreadCycles || s <= limitPa) return []
  // ν s²/σ² is distributed as χ² with ν degrees of freedom: NIST/SEMATECH e-Handbook, 7.2.3 (from memory).
  const leastPa = s * Math.sqrt((n - 1) / chiSquaredQuantile(criteria.coverageQuantile, n - 1))
  const certain = leastPa > limitPa && leastContactSd(c) > limitPa
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

const lagsS = Array.from({ length: 2 * criteria.mostLagS * 10 + 1 }, (_, i) => i / 10 - criteria.mostLagS)

/** The least standard deviation of the pressures at the contact's changes, under any one lag between the two, Pa; ∞ where none is known. */
function leastContactSd(c: Case): number {
  const { ratedOn } = c.setup.rating
  const edges = c.cycles.flatMap((cycle) => (cycle.used ? (cycle[ratedOn] ?? []) : []))
  const sds = lagsS.map((lagS) =>
    sampleSd(edges.map(({ loUs, hiUs }) => pressureAt(c.track, (loUs + hiUs) / 2 - lagS * 1e6))),
  )
  return Math.min(...sds.map((sd) => sd ?? Number.POSITIVE_INFINITY))
}
