// Strokes into a finding: the pressure goes through the trips in leaps, so where in a leap it tripped is not known.
import { criteria } from '../../criteria.table.ts'
import { indexAt } from '../../statistics/index-at.ts'
import { reversalLimitPa } from '../../trips/reversal.ts'
import { type Trip, tripMomentUs } from '../../trips/trips.ts'
import { type Case, type Rule, sayPressure, sight } from '../rule.ts'

/** A plunger that sticks holds the pressure still and then slips: most of the way before a trip is made of leaps. */
export const jerkyDraw: Rule = (c) => {
  const seen = c.cycles.filter(({ makeTrip, breakTrip }) => makeTrip !== null || breakTrip !== null)
  // A plunger that slips back turns the pressure: its leaps need not make most of the way then.
  const jerked = seen.flatMap(({ makeTrip, breakTrip, why }) => {
    const least = why === 'reversal' ? 0 : criteria.leapWayShare
    const ways = [makeTrip, breakTrip].flatMap((trip) => (trip ? [wayBefore(c, trip)] : []))
    const leapt = ways.filter(({ leaptPa, wayPa }) => leaptPa > least * wayPa)
    return leapt.length > 0 ? [Math.max(...leapt.map(({ mostPa }) => mostPa))] : []
  })
  if (jerked.length <= criteria.leapStrokeShare * seen.length) return []
  const mostPa = Math.max(...jerked)
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
  const last = indexAt(fresh, tripMomentUs(trip) + 1) - 1
  const { pressurePa } = fresh.of
  const near = (i: number) => Math.abs(pressurePa[i]! - pressurePa[last]!) < criteria.paceShare * ratedPa
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
  // A hand that speeds up, slows down or vents goes fast once: slips come out of a rest, again and again.
  const slips: number[] = []
  let is: 'quick' | 'resting' | 'slipping' = 'quick'
  for (const { onPa, forUs } of steps) {
    const duePa = pacePaPerUs * forUs
    if (onPa < duePa) is = 'resting'
    else if (is !== 'quick' && onPa > Math.max(leastPa, criteria.leapPaces * duePa)) {
      if (is === 'slipping') slips.push(slips.pop()! + onPa)
      else slips.push(onPa)
      is = 'slipping'
    }
  }
  const leaptPa = slips.length < criteria.leapsInWay ? 0 : slips.reduce((sum, pa) => sum + pa, 0)
  return { wayPa, leaptPa, mostPa: Math.max(0, ...slips) }
}
