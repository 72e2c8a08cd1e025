// Strokes and edges into cycles: which role each stroke has, its make and its break, and why it does not count.
import { criteria } from '../criteria.table.ts'
import type { Stroke } from '../intake/stroke-tracker.ts'
import type { Mark } from '../model/marks.ts'
import type { WhyNot } from '../model/result.ts'
import type { Edge } from './edges.ts'

export type CycleRole = 'first-stroke' | 'precondition' | 'counted'

export type Cycle = {
  stroke: number
  span: Stroke
  role: CycleRole
  /** All edges from the start of this stroke to the start of the next, in order. */
  edges: readonly Edge[]
  make: Edge | null
  break: Edge | null
  why: WhyNot | null
}

/**
 * Cycles of a session. Stroke 1 is the first stroke; strokes begun between a `precondition` and a `cycles` mark are not
 * counted, nor are those begun before `readUs`, when the cautions were read; without marks every later stroke counts.
 * `discard-cycle` voids the stroke in progress, else the last one. Edges and marks of the stroke that is still `open` belong
 * to none yet.
 */
export function findCycles(
  { strokes, open }: { strokes: readonly Stroke[]; open: Stroke | null },
  edges: readonly Edge[],
  marks: readonly Mark[],
  readUs = Number.NEGATIVE_INFINITY,
): Cycle[] {
  const cycles = strokes.map((span, index): Cycle => {
    const nextStartUs = (strokes[index + 1] ?? open)?.startUs ?? Number.POSITIVE_INFINITY
    const own = edges.filter((e) => e.hiUs > span.startUs && e.hiUs <= nextStartUs)
    const make = own.find((e) => e.to) ?? null
    // What closes at rest is no part of the stroke's crossing.
    const atRest = own.findIndex((e) => e.to && e.loUs > span.endUs)
    const crossing = make && atRest > own.indexOf(make) ? own.slice(0, atRest) : own
    const back = make ? (crossing.findLast((e) => !e.to && e.hiUs > make.hiUs) ?? null) : null
    return {
      stroke: index + 1,
      span,
      role: roleOf(index, span, marks, readUs),
      edges: own,
      make,
      break: back,
      why: null,
    }
  })
  for (const mark of marks) {
    if (mark.mark !== 'discard-cycle' || (open !== null && open.startUs <= mark.tUs)) continue
    const voided = cycles.findLast((c) => c.span.startUs <= mark.tUs)
    if (voided) voided.why = 'discarded'
  }
  return cycles
}

function roleOf(index: number, span: Stroke, marks: readonly Mark[], readUs: number): CycleRole {
  if (index === 0) return 'first-stroke'
  if (span.startUs < readUs) return 'precondition'
  const stage = marks.findLast((m) => (m.mark === 'precondition' || m.mark === 'cycles') && m.tUs <= span.startUs)
  return stage?.mark === 'precondition' ? 'precondition' : 'counted'
}

/**
 * Whether the contact chattered in a stroke: at least 3 transitions within ± 0.1 S of the trip on the
 * way up (the first change) or on the way down (the last). `pressureAt` gives Pa at a time in µs.
 */
export function chatters(cycle: Cycle, ratedPa: number, pressureAt: (tUs: number) => number): boolean {
  const crowd = (edges: readonly Edge[], trip: Edge | undefined) => {
    if (!trip) return false
    const atPa = pressureAt((trip.loUs + trip.hiUs) / 2)
    const near = edges.filter(
      (e) => Math.abs(pressureAt((e.loUs + e.hiUs) / 2) - atPa) <= criteria.chatterShare * ratedPa,
    )
    return near.length >= criteria.chatterTransitions
  }
  const { make } = cycle
  const last = cycle.edges.at(-1)
  const down = cycle.edges.filter((e) => e.hiUs > cycle.span.peakUs)
  return (
    crowd(
      cycle.edges.filter((e) => e.hiUs <= cycle.span.peakUs),
      make ?? cycle.edges[0],
    ) || crowd(down, last?.to === false ? last : down[0])
  )
}

/** Whether this pair saw the switch the wrong way round: rest on the rise, actuated on the fall. */
export function isInverted({ edges: [first, second], span }: Cycle): boolean {
  if (first === undefined || first.to || first.hiUs > span.peakUs) return false
  return second === undefined || (second.to && second.hiUs > span.peakUs)
}
