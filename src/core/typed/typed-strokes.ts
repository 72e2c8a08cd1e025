// Edges of the contact and the pressures typed at them into strokes, and into what has no partner on the other side.
import type { Stroke } from '../intake/stroke-tracker.ts'
import type { TypedReading } from '../model/typed.ts'
import type { Edge } from '../strokes/edges.ts'

export type TypedTrips = {
  /** What was typed at each edge that has its reading. */
  at: ReadonlyMap<Edge, TypedReading>
  /** Changes of the contact for which nothing was typed; what was typed for no change. */
  untyped: readonly Edge[]
  unmatched: readonly TypedReading[]
}

/** A make or break belongs to the last change of its kind before it, the first one typed for it: a second one has no partner. */
export function typedTrips(edges: readonly Edge[], typed: readonly TypedReading[]): TypedTrips {
  const at = new Map<Edge, TypedReading>()
  const unmatched: TypedReading[] = []
  for (const reading of typed) {
    if (reading.what !== 'make' && reading.what !== 'break') continue
    const edge = edges.findLast((e) => e.to === (reading.what === 'make') && e.loUs < reading.tUs)
    if (edge === undefined || at.has(edge)) unmatched.push(reading)
    else at.set(edge, reading)
  }
  return { at, untyped: edges.filter((edge) => !at.has(edge)), unmatched }
}

/** Nobody records the pressure between: a stroke goes from its make to the change after it. The last is `open` while its test goes on. */
export function typedStrokes(
  edges: readonly Edge[],
  pressureAt: (edge: Edge) => number | null,
  ended: boolean,
): { strokes: Stroke[]; open: Stroke | null } {
  const strokes = edges.flatMap((make, i): Stroke[] => {
    if (!make.to) return []
    const endUs = edges[i + 1]?.hiUs ?? make.hiUs
    return [{ startUs: make.loUs, peakUs: make.hiUs, endUs, peakPa: pressureAt(make) ?? 0 }]
  })
  const isOpen = !ended && edges.at(-1)?.to === true
  return isOpen ? { strokes: strokes.slice(0, -1), open: strokes.at(-1) ?? null } : { strokes, open: null }
}
