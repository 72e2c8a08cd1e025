// Strokes that do not count into a finding: what one of them shows lies outside the limits.

import { criteria } from '../../criteria.table.ts'
import type { Edge } from '../../strokes/edges.ts'
import type { TripValue } from '../../trips/trip-moment.ts'
import { ownInterval, widened } from '../../uncertainty/single-trip.ts'
import { makesAgain } from '../makes-again.ts'
import { outcomeOf } from '../outcome-of.ts'
import { readSpan, sideOutside } from '../read-span.ts'
import { type Case, type Rule, sayPressure, sight } from '../rule.ts'

type Outside = {
  stroke: number
  tUs: number
  transition: 'make' | 'break'
  side: 'low' | 'high'
  pressurePa: number
  sound: boolean
}

/**
 * Every stroke is evidence. A trip that conditions the part, and conducts where it must not, fails it as one that counts does; in
 * a stroke that is void, or on the other side, it keeps the part from a pass.
 */
export const uncountedStrokes: Rule = (c) => {
  const outside = c.cycles.flatMap((cycle, i) => {
    const { why, used, make, makeValue, break: back, breakValue, stroke } = cycle
    // Discards have a finding of their own; a wrong unit or a held display tells no pressure.
    if (why === 'discarded' || why === 'unit-changed' || why === 'frozen') return []
    const again = why === 'chatter' ? [] : makesAgain(c, cycle).filter(({ pulled }) => pulled)
    const pulled = again.flatMap((pull) => [
      ...outsideOf(c, 'make', pull.make, null),
      ...outsideOf(c, 'break', pull.release, null),
    ])
    const beside = pulled.map((o) => ({ ...o, stroke, sound: false }))
    // The first stroke has its limits.
    if (used || (i === 0 && why === null)) return beside
    const sound = why === null
    return [
      ...beside,
      ...outsideOf(c, 'make', make, makeValue).map((o) => ({ ...o, stroke, sound: sound && o.sure })),
      ...outsideOf(c, 'break', back, breakValue).map((o) => ({ ...o, stroke, sound: sound && o.sure })),
    ]
  })
  const unsafeSide = c.setup.rating.kind === 'draft-proving' ? 'low' : 'high'
  const fails = (o: Outside) => o.sound && o.side === unsafeSide
  const worst = outside.find(fails) ?? outside[0]
  if (!worst) return []
  const { stroke, transition, side, pressurePa, tUs } = worst
  const where = `${transition === 'make' ? 'made' : 'released'} at ${sayPressure(c, pressurePa)} in stroke ${stroke}`
  const advice = fails(worst)
    ? 'Reject it.'
    : 'Repeat the test with the hand at an even pace; if it happens again reject it.'
  return [
    sight(
      fails(worst) ? 'fail' : 'undecided',
      tUs,
      `The switch ${where}, ${side === 'low' ? 'below' : 'above'} its limit, in a stroke that does not count. ${advice}`,
      { strokes: new Set(outside.map((o) => o.stroke)).size, of: c.cycles.length, pressurePa },
    ),
  ]
}

/** The trip, where it lies outside the plain limits, by its value, else by what was read about its edge; `sure`: whatever else it may have been. */
function outsideOf(
  c: Case,
  transition: 'make' | 'break',
  edge: Edge | null,
  value: TripValue | null,
): (Omit<Outside, 'stroke' | 'sound'> & { sure: boolean })[] {
  const limit = c.setup.rating.limits[transition]
  // Where those that count fail already it is no news.
  if (edge === null || limit === null || outcomeOf(c, transition) === 'fail') return []
  const late = readSpan(c, transition, edge, criteria.mostLagS)
  // A gap may hide a peak: what was read on its sides bounds nothing. By this session's own lag it is enough to keep it from a pass.
  const seen = readSpan(c, transition, edge)
  if (value === null && seen.blind) return []
  const measured = c.measured[transition]
  // What hose and leak may hide excuses it from a fail, and clears it of nothing: a quick stroke leaves much of it open.
  const span = value ? { ...ownInterval(value, measured), openPa: 0 } : seen
  const most = value ? { ...widened(value, measured), openPa: 0 } : late
  const side = sideOutside(span, limit)
  if (side === null) return []
  const pressurePa = value?.valuePa ?? (span.lowPa + span.highPa) / 2
  const sure = sideOutside(most, limit) === side && (value !== null || !late.blind)
  return [{ tUs: edge.hiUs, transition, side, pressurePa, sure }]
}
