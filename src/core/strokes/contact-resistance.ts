// Closed readings away from any edge into the contact's resistance: median, worst, each closure with its readings, and where it conducts poorly.
import { criteria } from '../criteria.table.ts'
import type { Columns } from '../model/columns.ts'
import type { RigSpec } from '../model/rig.ts'
import { stateOf } from '../model/samples.ts'
import { median } from '../statistics/mean.ts'
import type { Edge } from './edges.ts'

export type ContactResistance = {
  medianOhm: number | null
  maxOhm: number | null
  /** Median of each closure in order, leads off. */
  closuresOhm: number[]
  /** Coarsest digit that the meter showed; null where its lines do not tell. */
  digitOhm: number | null
  poor: PoorContact
  /** Each stretch in which it should have conducted, in order. */
  closures: readonly ClosureReadings[]
}

/** What a closure showed clear of its edges, leads off: closed, or between the thresholds while it must conduct. */
export type ClosureReadings = {
  /** When it was first seen closed; null where that was before the first reading. */
  closedUs: number | null
  readings: readonly { tUs: number; ohm: number }[]
}

/** Readings between the two thresholds while the contact should conduct. */
export type PoorContact = {
  /** Stretches between two edges in which it should have conducted, and in how many of them two such readings came in a row. */
  closures: number
  poor: number
  /** Such readings in all; when the first two in a row began, else the first alone; µs. */
  readings: number
  firstUs: number | null
}

const none: ContactResistance = {
  medianOhm: null,
  maxOhm: null,
  closuresOhm: [],
  digitOhm: null,
  poor: { closures: 0, poor: 0, readings: 0, firstUs: null },
  closures: [],
}

type Closure = {
  closedUs: number | null
  readings: { tUs: number; ohm: number }[]
  ohms: number[]
  /** Times of readings between the thresholds. */
  betweenUs: number[]
  poorUs: number | null
}

/**
 * Resistance with the leads taken off; all null for the network, which hides it unless its own values were measured.
 * `mustConduct` tells by the pressure where the pair has to be closed, whatever the meter shows.
 */
export function contactResistance(
  { of, length }: Columns<'tUs' | 'ohm' | 'digitOhm' | 'state'>,
  edges: readonly Edge[],
  rig: RigSpec,
  intervalS: number,
  mustConduct: (tUs: number) => boolean = () => false,
): ContactResistance {
  if (rig.pair === 'network') return none
  // A meter integrates: a reading that began before the edge holds some of the other state.
  const clearUs = Math.max(criteria.clearOfEdgeUs, criteria.clearOfEdgeIntervals * intervalS * 1e6)
  const closures = new Map<number, Closure>()
  let next = 0
  let digitOhm: number | null = null
  let beforeUs: number | null = null
  for (let i = 0; i < length; i++) {
    const ohm = of.ohm[i]!
    // An open contact, most of a session, counts in no closure.
    if (!Number.isFinite(ohm)) {
      beforeUs = null
      continue
    }
    const tUs = of.tUs[i]!
    const state = stateOf(of.state[i])
    while (next < edges.length && edges[next]!.hiUs <= tUs) next++
    const previous = edges[next - 1]
    const following = edges[next]
    const clear = !(previous && tUs - previous.hiUs < clearUs) && !(following && following.loUs - tUs < clearUs)
    const valueOhm = ohm - rig.leadsOhm
    const between = valueOhm >= rig.closedBelowOhm && valueOhm <= rig.openAboveOhm
    const counts = clear && (state === 'closed' || (between && mustConduct(tUs)))
    const lastBetweenUs: number | null = beforeUs
    beforeUs = counts && between ? tUs : null
    if (!counts) continue
    const closure: Closure = closures.get(next) ?? {
      closedUs: previous?.closes ? previous.hiUs : null,
      readings: [],
      ohms: [],
      betweenUs: [],
      poorUs: null,
    }
    closures.set(next, closure)
    closure.readings.push({ tUs, ohm: valueOhm })
    if (state === 'closed') {
      closure.ohms.push(valueOhm)
      digitOhm = Math.max(digitOhm ?? 0, of.digitOhm[i] || 0) || null
    }
    if (!between) continue
    closure.betweenUs.push(tUs)
    if (lastBetweenUs !== null) closure.poorUs ??= lastBetweenUs
  }
  const found = [...closures.values()]
  const all = found.flatMap(({ ohms }) => ohms)
  const poor = found.flatMap(({ poorUs }) => poorUs ?? [])
  const between = found.flatMap(({ betweenUs }) => betweenUs)
  return {
    medianOhm: median(all),
    maxOhm: all.length === 0 ? null : all.reduce((a, b) => Math.max(a, b)),
    closuresOhm: found.flatMap(({ ohms }) => median(ohms) ?? []),
    digitOhm,
    poor: {
      closures: found.length,
      poor: poor.length,
      readings: between.length,
      firstUs: poor[0] ?? between[0] ?? null,
    },
    closures: found,
  }
}
