// Contact readings into edges: each change of the switch between the last reading of the old state and the first of the new.
import { criteria } from '../criteria.table.ts'
import { isActuated, type Pair } from '../model/pair.ts'
import { stateOf } from '../model/samples.ts'

/** A change of the switch, dated in contact time (µs): it happened after `loUs` and not later than `hiUs`. */
export type Edge = {
  loUs: number
  hiUs: number
  /** The state the switch went to: actuated or at rest. */
  to: boolean
  /** The wired pair closes here: where an auto-ranging meter is late. */
  closes: boolean
  /** Openings shorter than the bounce limit that this edge swallowed. */
  bounces: number
  /** How many readings one after the other show the new state: one alone may be a line that lost some of its digits. */
  readings: number
}

/** Contact readings; where they were placed in time, within how much of it too. */
type Seen = { of: Readonly<Record<'tUs' | 'state', Float64Array> & { halfUs?: Float64Array }>; length: number }

/** The edges of a session in order. Readings that do not tell the state (a lead off, shorted) only widen the interval. */
export function findEdges({ of, length }: Seen, pair: Pair): Edge[] {
  const changes: Edge[] = []
  let earliestUs = 0
  let before: boolean | null = null
  for (let i = 0; i < length; i++) {
    const actuated = isActuated(stateOf(of.state[i]), pair)
    if (actuated === null) continue
    const tUs = of.tUs[i]!
    const halfUs = of.halfUs?.[i] ?? 0
    if (before !== null && actuated !== before)
      changes.push({
        loUs: earliestUs,
        hiUs: tUs + halfUs,
        to: actuated,
        closes: (pair === 'com-nc') !== actuated,
        bounces: 0,
        readings: 1,
      })
    else if (changes.length > 0) changes[changes.length - 1]!.readings++
    before = actuated
    earliestUs = tUs - halfUs
  }
  return mergeBounces(changes)
}

const spanOf = ({ loUs, hiUs }: Edge) => ({ loUs, hiUs })

/** Runs of changes closer than the bounce limit become one edge, or none where the state came back. */
function mergeBounces(changes: readonly Edge[]): Edge[] {
  const edges: Edge[] = []
  for (let i = 0; i < changes.length; ) {
    let end = i + 1
    while (end < changes.length && changes[end]!.hiUs - changes[end - 1]!.hiUs < criteria.bounceUs) end++
    const count = end - i
    if (count % 2 === 1) edges.push({ ...changes[end - 1]!, ...spanOf(changes[i]!), bounces: (count - 1) / 2 })
    i = end
  }
  return edges
}
