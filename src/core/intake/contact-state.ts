// Ohms into the state of the wired pair: thresholds with hysteresis, or the three resistors of the network.

import type { RigSpec } from '../model/rig.ts'
import type { ContactState } from '../model/samples.ts'

// Borders lie between the readings of neighbouring states (0, 64.3, 90.9, 180.3, 1 000, open); parallel-resistor arithmetic.
const networkBorders: readonly [belowOhm: number, state: ContactState][] = [
  [32, 'shorted'],
  [78, 'both'],
  [130, 'no-closed'],
  [500, 'nc-closed'],
  [3000, 'neither'],
]

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
