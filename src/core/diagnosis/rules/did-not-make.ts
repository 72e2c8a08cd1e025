// Strokes without a make into a finding: they went beyond the pressure at which the switch must have made.
import { criteria } from '../../criteria.table.ts'
import { isActuated } from '../../model/pair.ts'
import { toArray } from '../../model/series.ts'
import { indexAt } from '../../statistics/index-at.ts'
import { isInverted } from '../../strokes/cycles.ts'
import { type Case, hasTransition, type Rule, sayPressure, sight } from '../rule.ts'

/**
 * The high make limit with what U leaves open, without one 1.25 S; or, lower than that, what lies beyond all other makes.
 * A contact that still conducts is seen by no lead that fell off: COM–NC and the network are certain.
 */
export const didNotMake: Rule = (c) => {
  // A switch that never makes at all is another finding.
  if (!hasTransition(c) || c.cycles.some(isInverted)) return []
  const { rating, rig } = c.setup
  const { UPa } = c.measured.make.estimate
  const highPa = rating.limits.make?.highPa
  const limitPa = highPa == null ? criteria.peakShare * rating.ratedPa : highPa + (UPa ?? 0)
  const missed = c.cycles.filter(
    (cycle) =>
      cycle.make === null &&
      !isClamped(c, cycle) &&
      cycle.span.peakPa > Math.min(limitPa, beyondOthersPa(c)) &&
      seenAtRest(c, cycle),
  )
  const highest = missed.toSorted((a, b) => b.span.peakPa - a.span.peakPa)[0]
  if (!highest) return []
  const conducting = rig.pair === 'com-nc' || rig.pair === 'network'
  const certain = conducting && highest.span.peakPa > limitPa
  const where = `in stroke ${missed.map(({ stroke }) => stroke).join(', ')}`
  const advice = certain ? 'Reject it.' : 'See that both leads hold, and repeat; if it happens again reject it.'
  return [
    sight(
      certain ? 'fail' : 'undecided',
      highest.span.peakUs,
      `The switch did not make up to ${sayPressure(c, highest.span.peakPa)} ${where}. ${advice}`,
      { strokes: missed.length, of: c.cycles.length, reachedPa: highest.span.peakPa, limitPa },
    ),
  ]
}

/** Beyond all makes of the session by 4 s and what the largest lag may hide, Pa; ∞ for fewer than two makes. */
function beyondOthersPa(c: Case): number {
  const makes = c.cycles.flatMap((cycle) => cycle.makeValue ?? [])
  const { scatterPa } = c.measured.make.estimate
  if (makes.length <= 1 || scatterPa === null) return Number.POSITIVE_INFINITY
  return Math.max(...makes.map((v) => v.hiPa + criteria.otherMakesSds * scatterPa + v.ratePaPerS * criteria.mostLagS))
}

/** A hold of the clamp ladder may go without the switch. */
function isClamped({ run }: Case, { span }: Case['cycles'][number]): boolean {
  return toArray(run.marks).some(({ mark, tUs }) => mark === 'leak-hold' && tUs > span.startUs && tUs < span.endUs)
}

/** Whether the contact was read all the way to the peak, and was at rest: a silent meter or a lead that is off tells nothing. */
function seenAtRest(c: Case, { span }: Case['cycles'][number]): boolean {
  const { contactIntervalS, pressureIntervalS } = c.streams
  const toUs = span.peakUs + (contactIntervalS + pressureIntervalS) * 1e6
  const seen = c.contact.slice(indexAt(c.contact, span.startUs), indexAt(c.contact, toUs))
  const gapUs = Math.max(criteria.gapIntervals * contactIntervalS, criteria.gapS) * 1e6
  const times = [span.startUs, ...seen.map(({ tUs }) => tUs), toUs]
  const unbroken = times.every((tUs, i) => tUs - (times[i - 1] ?? tUs) <= gapUs)
  return unbroken && seen.every(({ state }) => isActuated(state, c.setup.rig.pair) === false)
}
