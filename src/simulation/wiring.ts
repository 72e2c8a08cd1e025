// What the two clips of the meter see of the switch: the pair they sit on, the resistor network, a lead that fell off.
import type { Throws } from './contact.ts'

export type WiringTruth = {
  /** Where the clips really sit; the rig file says only what was intended. `no-nc` leaves the common terminal out. */
  clips: 'com-no' | 'com-nc' | 'no-nc' | 'network'
  leadsOhm: number
}

/** The three resistors of the network: one in each throw's lead, one across the clips; so every state reads apart. */
export const networkOhm = { no: 100, nc: 220, across: 1000 } as const

/** Resistance at the meter in ohm; Infinity = open. */
export function ohmsAtMeter(throws: Throws, wiring: WiringTruth, leadOff: boolean): number {
  if (leadOff) return Number.POSITIVE_INFINITY
  return wiring.leadsOhm + ohmsAtClips(throws, wiring.clips)
}

function ohmsAtClips({ noOhm, ncOhm }: Throws, clips: WiringTruth['clips']): number {
  if (clips === 'com-no') return noOhm
  if (clips === 'com-nc') return ncOhm
  // Between the two throws the common blade would have to touch both.
  if (clips === 'no-nc') return noOhm + ncOhm
  return 1 / (1 / networkOhm.across + 1 / (networkOhm.no + noOhm) + 1 / (networkOhm.nc + ncOhm))
}
