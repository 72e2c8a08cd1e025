// The wired pair of terminals: its names, the three resistors that see both throws, and what each state says of the switch.
import type { ContactState } from './samples.ts'

export const pairs = ['com-no', 'com-nc', 'network'] as const
/** What the operator meant to wire; `network` = three resistors at the terminals. */
export type Pair = (typeof pairs)[number]

/** The network: 100 ohm in the NO lead, 220 ohm in the NC lead, 1 000 ohm across the clips. */
export const network = { noOhm: 100, ncOhm: 220, acrossOhm: 1000 } as const

/**
 * Whether the switch is actuated in a state of the pair: NO closed, or NC open. The network's `neither` is not (NO is
 * open); null where the state does not tell (a lead off, shorted, both throws closed).
 */
export function isActuated(state: ContactState, pair: Pair): boolean | null {
  if (state === 'closed') return pair === 'com-no'
  if (state === 'open') return pair === 'com-nc'
  if (state === 'no-closed') return true
  if (state === 'nc-closed' || state === 'neither') return false
  return null
}

/** Name of the pair that was meant, as a technician says it. */
export function pairName(pair: Pair): string {
  return pair === 'com-no' ? 'COM–NO' : pair === 'com-nc' ? 'COM–NC' : 'the network'
}
