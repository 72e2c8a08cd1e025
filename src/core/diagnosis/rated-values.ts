// The cycles that count into the makes or the breaks that they show, in their order.
import type { Case } from './rule.ts'

/** Makes or breaks in Pa, freed of lag; as the part is rated on where not said otherwise. */
export function ratedValues(c: Case, transition: 'make' | 'break' = c.setup.rating.ratedOn): number[] {
  return c.cycles
    .filter((cycle) => cycle.used)
    .flatMap((cycle) => (transition === 'make' ? cycle.makeValue : cycle.breakValue)?.valuePa ?? [])
}
