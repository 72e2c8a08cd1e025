// Cycles into the wired pair as it was seen: the wrong way round in most strokes, or not.
import { isInverted } from '../strokes/cycles.ts'
import type { Case, Sight } from './rule.ts'

/** When the pair was first seen at rest on the rise and actuated on the fall; null where it was not, or in few strokes only. */
export function invertedStrokes(c: Case): { tUs: number; evidence: Sight['evidence'] } | null {
  const inverted = c.cycles.filter(isInverted)
  if (inverted.length === 0 || inverted.length < c.cycles.length / 2) return null
  return { tUs: inverted[0]!.edges[0]!.hiUs, evidence: { strokes: inverted.length, wired: c.setup.rig.pair } }
}
