// Strokes without a make into a finding: they went beyond the pressure at which the switch must have made.

import { criteria } from '../../criteria.table.ts'
import { isActuated } from '../../model/pair.ts'
import { stateOf, type Track } from '../../model/samples.ts'
import { pressureAt } from '../../signal/pressure-track.ts'
import { gapUs, hasSilence } from '../../signal/silence.ts'
import { indexAt } from '../../statistics/index-at.ts'
import type { Cycle } from '../../strokes/cycles.ts'
import { widened } from '../../uncertainty/single-trip.ts'
import { invertedStrokes } from '../inverted-strokes.ts'
import { isClamped } from '../is-clamped.ts'
import { type Case, hasTransition, type Rule, sayPressure, sight } from '../rule.ts'
import { typedDidNotMake } from '../typed-strokes.ts'

/**
 * The high make limit with what U leaves open, without one 1.25 S; or, lower than that, what lies beyond all other makes.
 * A contact that still conducts is seen by no lead that fell off: COM–NC and the network are certain.
 */
export const didNotMake: Rule = (c) => {
  if (c.typed !== null) return typedDidNotMake(c)
  // A switch that never makes at all is another finding.
  if (!hasTransition(c) || invertedStrokes(c) !== null) return []
  const { rating, rig } = c.setup
  const { UPa } = c.measured.make.estimate
  const highPa = rating.limits.make?.highPa
  const limitPa = highPa == null ? criteria.peakShare * rating.ratedPa : highPa + (UPa ?? 0)
  const othersPa = beyondOthersPa(c)
  const missed = c.cycles.filter(
    (cycle) =>
      !isClamped(c, cycle) && (hasMissedDraw(c, cycle, limitPa, 0) || hasMissedDraw(c, cycle, othersPa, lateS(c))),
  )
  const highest = missed.toSorted((a, b) => b.span.peakPa - a.span.peakPa)[0]
  if (!highest) return []
  const conducting = rig.pair === 'com-nc' || rig.pair === 'network'
  const certain = conducting && highest.span.peakPa > limitPa && isUnbroken(c, highest)
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

/** Beyond all makes of the session by 4 s, whatever is left open of each, Pa; ∞ for fewer than two makes. */
function beyondOthersPa(c: Case): number {
  const makes = c.cycles.flatMap((cycle) => cycle.makeValue ?? [])
  const { scatterPa } = c.measured.make.estimate
  if (makes.length <= 1 || scatterPa === null) return Number.POSITIVE_INFINITY
  return Math.max(...makes.map((v) => widened(v, c.measured.make).highPa)) + criteria.otherMakesSds * scatterPa
}

/** How long a pressure must stay for the switch to feel all of it, s: the hose's lag that shows, and what the paces leave open. */
function lateS({ lag: { hose } }: Case): number {
  return Math.min(criteria.mostLagS, (hose.make.shown?.valueS ?? 0) + hose.make.late.lagS)
}

/**
 * Whether the pressure went beyond `overPa` for more than `stayedS` and back to where a switch may let go, and the contact was read at rest there and never
 * made, before or after a gap too: a silent meter or a lead that is off tells nothing. A hand may draw twice in one stroke.
 */
function hasMissedDraw(c: Case, { span }: Cycle, overPa: number, stayedS: number): boolean {
  const { rating, rig } = c.setup
  const backPa = Math.min(overPa, rating.limits.make?.lowPa ?? rating.ratedPa)
  const from = indexAt(c.track, span.startUs)
  const draws = drawsIn(c.track.part(from, indexAt(c.track, span.endUs) + 1), overPa, backPa)
  return draws.some(({ fromUs, toUs, overUs }) => {
    if (overUs <= stayedS * 1e6) return false
    const lateUs = toUs + criteria.mostLagS * 1e6
    const isMade = c.contact
      .slice(indexAt(c.contact, fromUs), indexAt(c.contact, lateUs))
      .some(({ state }) => isActuated(stateOf(state), rig.pair) === true)
    return !isMade && readAtRest(c, fromUs, toUs).some(({ tUs }) => pressureAt(c.track, tUs) > overPa)
  })
}

/** From a rise beyond a pressure to the next fall below another; `overUs`: how long after the rise the pressure was still beyond it. */
type Draw = { fromUs: number; toUs: number; overUs: number }

function drawsIn({ of, length }: Track, overPa: number, backPa: number): Draw[] {
  const draws: Draw[] = []
  let open: Draw | null = null
  for (let i = 0; i < length; i++) {
    const tUs = of.tUs[i]!
    const pressurePa = of.pressurePa[i]!
    if (open) open.toUs = tUs
    else if (pressurePa > overPa) {
      open = { fromUs: tUs, toUs: tUs, overUs: 1 }
      draws.push(open)
    }
    if (open && pressurePa > overPa) open.overUs = tUs - open.fromUs + 1
    if (open && pressurePa < backPa) open = null
  }
  return draws
}

/** Whether the contact was read at rest all the way to the peak: no gap hides a make there. */
function isUnbroken(c: Case, { span: { startUs, peakUs } }: Cycle): boolean {
  const { contactIntervalS, pressureIntervalS } = c.streams
  const toUs = peakUs + (contactIntervalS + pressureIntervalS) * 1e6
  const times = [startUs, ...readAtRest(c, startUs, toUs).map(({ tUs }) => tUs), toUs]
  return !hasSilence(times, gapUs(contactIntervalS))
}

const readAtRest = ({ contact, setup }: Case, fromUs: number, toUs: number) =>
  contact
    .slice(indexAt(contact, fromUs), indexAt(contact, toUs))
    .filter(({ state }) => isActuated(stateOf(state), setup.rig.pair) === false)
