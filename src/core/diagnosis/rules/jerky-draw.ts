// Strokes into a finding: the pressure goes through the trips in leaps, so where in a leap it tripped is not known.
import { criteria } from '../../criteria.table.ts'
import { reversalLimitPa } from '../../trips/reversal-limit.ts'
import { type Trip, tripMomentUs } from '../../trips/trips.ts'
import { type Case, type Rule, sayPressure, sight } from '../rule.ts'

/** A plunger that sticks holds the pressure still and then slips: most of the way before a trip is made of leaps. */
export const jerkyDraw: Rule = (c) => {
  const ways = c.cycles.map(({ makeTrip, breakTrip }) =>
    [makeTrip, breakTrip].filter((trip) => trip !== null).map((trip) => wayBefore(c, trip)),
  )
  const seen = ways.filter((of) => of.length > 0)
  const jerked = seen.filter((of) => of.some(({ leaptPa, wayPa }) => leaptPa > criteria.leapWayShare * wayPa))
  if (jerked.length <= criteria.leapStrokeShare * seen.length) return []
  const mostPa = Math.max(...jerked.flat().map(({ mostPa }) => mostPa))
  const counted = c.cycles.filter(({ used }) => used).length
  return [
    sight(
      'undecided',
      c.run.tUs,
      `The pressure goes in leaps of up to ${sayPressure(c, mostPa)} past the trips in ${jerked.length} of ${seen.length} strokes, as where the plunger sticks and slips. Grease the plunger, take a larger bottle, and draw smoothly.`,
      { strokes: jerked.length, of: seen.length, leapPa: mostPa, counted },
    ),
  ]
}

/** The way that the pressure goes near a trip and before it, Pa: all of it, what leaps make of it, and the largest leap. */
function wayBefore(c: Case, trip: Trip): { wayPa: number; leaptPa: number; mostPa: number } {
  const { fresh, ratedPa } = c.streams
  const sign = trip.transition === 'make' ? 1 : -1
  const last = fresh.findLastIndex(({ tUs }) => tUs <= tripMomentUs(trip))
  const near = (i: number) => Math.abs(fresh[i]!.pressurePa - fresh[last]!.pressurePa) < criteria.paceShare * ratedPa
  let first = last
  while (first > 0 && near(first - 1)) first--
  const stretch = fresh.slice(first, last + 1)
  const steps = stretch.slice(1).map(({ tUs, pressurePa }, i) => {
    const before = stretch[i]!
    return { onPa: sign * (pressurePa - before.pressurePa), forUs: tUs - before.tUs }
  })
  const wayPa = steps.reduce((sum, { onPa }) => sum + onPa, 0)
  const pacePaPerUs = wayPa / steps.reduce((sum, { forUs }) => sum + forUs, 0)
  // What noise and digit make of a reading is no leap, as it is no turning back.
  const leastPa = Math.max(criteria.leapShare * ratedPa, reversalLimitPa({ ...c.streams, ratedPa: 0 }))
  const leaps = steps
    .filter(({ onPa, forUs }) => onPa > Math.max(leastPa, criteria.leapPaces * pacePaPerUs * forUs))
    .map(({ onPa }) => onPa)
  return { wayPa, leaptPa: leaps.reduce((sum, pa) => sum + pa, 0), mostPa: Math.max(0, ...leaps) }
}
