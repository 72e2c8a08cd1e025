// The cycles that count into the makes or the breaks that they show, in their order.
import type { TripValue } from '../trips/trip-moment.ts'
import type { Case } from './rule.ts'

/** Makes or breaks of the cycles that count. */
export function countedTrips(c: Case, transition: 'make' | 'break'): TripValue[] {
  return c.cycles
    .filter((cycle) => cycle.used)
    .flatMap((cycle) => (transition === 'make' ? cycle.makeValue : cycle.breakValue) ?? [])
}

/** Makes or breaks in Pa, freed of lag, as the part is rated on. */
export function ratedValues(c: Case): number[] {
  return countedTrips(c, c.setup.rating.ratedOn).map(({ valuePa }) => valuePa)
}
