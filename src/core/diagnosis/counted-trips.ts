// Cycles into the makes and breaks that they show: those that count, in their order, or all that are judged.
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

/** Makes and breaks of the first stroke and of those that count, and what the manometer showed there with its zero, Pa. */
export function judgedTrips({ cycles, zero }: Case): { valuePa: number; shownPa: number }[] {
  const zeroPa = (zero.before ?? zero.after)?.meanPa ?? 0
  return cycles
    .filter((cycle, i) => cycle.used || i === 0)
    .flatMap(({ makeValue, breakValue }) => [makeValue ?? [], breakValue ?? []].flat())
    .map(({ valuePa }) => ({ valuePa, shownPa: valuePa + zeroPa }))
}
