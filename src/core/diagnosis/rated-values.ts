// The cycles that count into the values of the rated quantity, in their order.
import type { Case } from './rule.ts'

/** Makes or breaks in Pa, freed of lag, as the part is rated on. */
export function ratedValues(c: Case): number[] {
  const { ratedOn } = c.setup.rating
  return c.cycles
    .filter((cycle) => cycle.used)
    .flatMap((cycle) => (ratedOn === 'make' ? cycle.makeValue : cycle.breakValue)?.valuePa ?? [])
}
