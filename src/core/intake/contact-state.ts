// Ohms into the state of the wired pair: thresholds with hysteresis, or the three resistors of the network.
import { criteria } from '../criteria.table.ts'
import type { RigSpec } from '../model/rig.ts'
import type { ContactState } from '../model/samples.ts'

/** Borders between the readings of neighbouring states. */
const networkBorders: readonly [belowOhm: number, state: ContactState][] = [
  [criteria.shortedBelowOhm, 'shorted'],
  [criteria.bothBelowOhm, 'both'],
  [criteria.noClosedBelowOhm, 'no-closed'],
  [criteria.ncClosedBelowOhm, 'nc-closed'],
  [criteria.neitherBelowOhm, 'neither'],
]

/** State of the pair from a continuity tester's word. Of the network it tells nothing: each state has its ohms there. */
export function statedContact(value: number, { pair }: RigSpec): ContactState {
  if (pair === 'network' || Number.isNaN(value)) return 'unknown'
  return value === 1 ? 'closed' : 'open'
}

/**
 * State of the pair after a reading of `ohm` (leads included; Infinity = over-range). Between the two thresholds of a
 * plain pair the state stays what it was; NaN leaves it unknown.
 */
export function contactState(ohm: number, before: ContactState, rig: RigSpec): ContactState {
  if (Number.isNaN(ohm)) return 'unknown'
  const value = ohm - rig.leadsOhm
  if (rig.pair === 'network') return networkBorders.find(([below]) => value < below)?.[1] ?? 'lead-off'
  if (value < rig.closedBelowOhm) return 'closed'
  if (value > rig.openAboveOhm) return 'open'
  return before
}
