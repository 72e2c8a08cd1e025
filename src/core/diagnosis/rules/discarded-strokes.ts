// Strokes discarded by key into a finding: what they showed, or how many they are, keeps the part from a pass.
import { criteria } from '../../criteria.table.ts'
import type { Edge } from '../../strokes/edges.ts'
import { readSpan, sideOutside } from '../read-span.ts'
import { type Case, type Rule, sayPressure, sight } from '../rule.ts'

/** A discarded stroke is evidence too: its trip outside a limit, or more than one stroke in five, is told. */
export const discardedStrokes: Rule = (c) => {
  const discarded = c.cycles.filter(({ why }) => why === 'discarded')
  const first = discarded[0]
  if (!first) return []
  const outside = discarded.flatMap((cycle) => [
    ...tripOutside(c, 'make', cycle.stroke, cycle.make),
    ...tripOutside(c, 'break', cycle.stroke, cycle.break),
  ])
  const evidence = { strokes: discarded.length, of: c.cycles.length, outside: outside.length }
  const trip = outside[0]
  if (trip) {
    const text = `Stroke ${trip.stroke} was discarded, and its ${trip.transition} at ${sayPressure(c, trip.pressurePa)} lies outside the limits. Repeat the test without discarding; if it happens again reject the switch.`
    return [sight('undecided', first.span.startUs, text, { ...evidence, pressurePa: trip.pressurePa })]
  }
  if (discarded.length <= criteria.discardShare * c.cycles.length) return []
  const text = `${discarded.length} of ${c.cycles.length} strokes were discarded, more than one in five. Find out what disturbs the bench, and repeat the test.`
  return [sight('undecided', first.span.startUs, text, evidence)]
}

type Outside = { stroke: number; transition: 'make' | 'break'; pressurePa: number }

/** The trip at its edge, where all that was read about it lies outside the plain limits. */
function tripOutside(c: Case, transition: Outside['transition'], stroke: number, edge: Edge | null): Outside[] {
  const limit = c.setup.rating.limits[transition]
  if (edge === null || limit === null) return []
  const seen = readSpan(c, transition, edge)
  return sideOutside(seen, limit) ? [{ stroke, transition, pressurePa: (seen.lowPa + seen.highPa) / 2 }] : []
}
