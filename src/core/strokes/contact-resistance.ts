// Closed readings away from any edge into the contact's resistance: median, worst, and the median of each closure.
import { criteria } from '../criteria.table.ts'
import type { RigSpec } from '../model/rig.ts'
import type { ContactSample } from '../model/samples.ts'
import { median } from '../statistics/mean.ts'
import type { Edge } from './edges.ts'

export type ContactResistance = {
  medianOhm: number | null
  maxOhm: number | null
  /** Median of each closure in order, leads off. */
  closuresOhm: number[]
}

/** Resistance with the leads taken off; all null for the network, which hides it unless its own values were measured. */
export function contactResistance(
  contact: readonly ContactSample[],
  edges: readonly Edge[],
  rig: RigSpec,
): ContactResistance {
  if (rig.pair === 'network') return { medianOhm: null, maxOhm: null, closuresOhm: [] }
  const closures: number[][] = []
  let next = 0
  let newClosure = true
  for (const { tUs, ohm, state } of contact) {
    while (next < edges.length && edges[next]!.hiUs <= tUs) {
      newClosure = true
      next++
    }
    if (state !== 'closed' || !Number.isFinite(ohm)) continue
    const previous = edges[next - 1]
    const following = edges[next]
    if (previous && tUs - previous.hiUs < criteria.clearOfEdgeUs) continue
    if (following && following.loUs - tUs < criteria.clearOfEdgeUs) continue
    if (newClosure) closures.push([])
    newClosure = false
    closures.at(-1)?.push(ohm - rig.leadsOhm)
  }
  const all = closures.flat()
  return {
    medianOhm: median(all),
    maxOhm: all.length === 0 ? null : all.reduce((a, b) => Math.max(a, b)),
    closuresOhm: closures.flatMap((c) => median(c) ?? []),
  }
}
