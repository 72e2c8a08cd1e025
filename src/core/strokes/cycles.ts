// Strokes and edges into cycles: which role each stroke has, its make and its break, and why it does not count.
import { criteria } from '../criteria.table.ts'
import type { Stroke } from '../intake/stroke-tracker.ts'
import type { Mark } from '../model/marks.ts'
import type { WhyNot } from '../model/result.ts'
import type { Track } from '../model/samples.ts'
import { pressureAt } from '../signal/pressure-track.ts'
import { indexAt } from '../statistics/index-at.ts'
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
    // One reading alone is no make while there is one that holds: what it shows is weighed by the rules.
    const makes = own.filter((e) => e.to)
    const make = makes.find(isHeld) ?? makes[0] ?? null
    // What closes at rest is no part of the stroke's crossing.
    const atRest = own.findIndex((e) => e.to && e.loUs > span.endUs)
    const crossing = make && atRest > own.indexOf(make) ? own.slice(0, atRest) : own
    const backs = crossing.filter((e) => !e.to && make !== null && e.hiUs > make.hiUs)
    const back = backs.findLast((e) => isHeld(own[own.indexOf(e) - 1])) ?? backs.at(-1) ?? null
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

const isHeld = (edge: Edge | undefined) => edge !== undefined && edge.readings >= criteria.heldReadings

function roleOf(index: number, span: Stroke, marks: readonly Mark[], readUs: number): CycleRole {
  if (index === 0) return 'first-stroke'
  if (span.startUs < readUs) return 'precondition'
  const stage = marks.findLast((m) => (m.mark === 'precondition' || m.mark === 'cycles') && m.tUs <= span.startUs)
  return stage?.mark === 'precondition' ? 'precondition' : 'counted'
}

/** Whether the contact chattered in a stroke: at least 3 transitions at one crossing. What begins and ends made is held. */
export function chatters({ edges }: Cycle, ratedPa: number, track: Track): boolean {
  return crowdsOf(edges, ratedPa, track).some(
    (crowd) => crowd.length >= criteria.chatterTransitions && (crowd[0]!.to || !crowd.at(-1)!.to),
  )
}

/**
 * Edges one after the other, each within ± 0.1 S of the one before, while the pressure stayed about there (within twice that: a
 * kick moves it too). Where it went on between them, they are no one crossing.
 */
function crowdsOf(edges: readonly Edge[], ratedPa: number, track: Track): Edge[][] {
  const bandPa = criteria.chatterShare * ratedPa
  const at = ({ loUs, hiUs }: Edge) => pressureAt(track, (loUs + hiUs) / 2)
  const crowds: Edge[][] = []
  for (const edge of edges) {
    const crowd = crowds.at(-1)
    const before = crowd?.at(-1)
    const isNear = (last: Edge) => {
      const between = track.part(indexAt(track, last.hiUs), indexAt(track, edge.loUs))
      const lastPa = at(last)
      return (
        Math.abs(at(edge) - lastPa) <= bandPa &&
        between.of.pressurePa.every((pa) => Math.abs(pa - lastPa) <= criteria.chatterStayShare * ratedPa)
      )
    }
    if (crowd && before && isNear(before)) crowd.push(edge)
    else crowds.push([edge])
  }
  return crowds
}

/** Whether this pair saw the switch the wrong way round: rest on the rise, actuated on the fall. */
export function isInverted({ edges: [first, second], span }: Cycle): boolean {
  if (first === undefined || first.to || first.hiUs > span.peakUs) return false
  return second === undefined || (second.to && second.hiUs > span.peakUs)
}
