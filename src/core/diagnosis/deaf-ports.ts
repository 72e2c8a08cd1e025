// The ports of a run into those from which nothing came that can be read.
import type { PortState } from '../intake/receive.ts'
import type { Case } from './rule.ts'

/** How often a port sent the other kind of reading. */
export const wrongQuantities = (port: PortState): number => port.faultCounts['wrong-quantity'] ?? 0

/** Ports without a single reading of their kind; none before the first event. A second manometer is a witness: a finding of its own says that it is silent. */
export function deafPorts({ run, contact }: Case): PortState[] {
  if (run.tUs === 0) return []
  return run.ports.filter(
    ({ name }) => name !== 'manometer-2' && (name === 'meter' ? contact : run.pressure).length === 0,
  )
}
