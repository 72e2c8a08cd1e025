// Makes and breaks into a finding: their cycles show a trend.
import { criteria } from '../../criteria.table.ts'
import { fitLine } from '../../statistics/line.ts'
import { studentQuantile } from '../../statistics/student.ts'
import { countedTrips } from '../counted-trips.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

/**
 * A trend over the cycles: warm-up, a leak or a relaxing spring. The rated quantity tells it first, then the other one: a spring moves
 * both. A hose that is taken off may take a trend along, for the brisk strokes come last: so it is looked for as displayed, too.
 */
export const weakening: Rule = (c) => {
  const { ratedOn } = c.setup.rating
  const transitions = [ratedOn, ratedOn === 'make' ? 'break' : 'make'] as const
  const looks = transitions.flatMap((transition) => {
    const trips = countedTrips(c, transition)
    return [
      { transition, values: trips.map(({ valuePa }) => valuePa) },
      { transition, values: trips.map(({ seen }) => seen.shownPa) },
    ]
  })
  for (const { transition, values } of looks) {
    const n = values.length
    if (n < criteria.trendCycles) continue
    const line = fitLine(
      values.map((_, i) => i),
      values,
    )
    if (!line) continue
    const { slope, uSlope } = line
    const drift = Math.abs(slope) * n
    const beyondChance = Math.abs(slope) > studentQuantile(criteria.trendProbability, n - 2) * uSlope
    if (!beyondChance || !(drift > criteria.trendShare * c.setup.rating.halfTolerancePa)) continue
    return [
      sight(
        'undecided',
        c.run.tUs,
        `The ${transition} moves by ${sayPressure(c, slope, studentQuantile(0.975, n - 2) * uSlope)} a cycle. Stop, let switch and bench settle, look for a leak; if it goes on the spring is relaxing: reject.`,
        { slopePaPerCycle: slope, uSlopePa: uSlope, n },
      ),
    ]
  }
  return []
}
