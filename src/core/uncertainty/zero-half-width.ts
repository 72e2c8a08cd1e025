// The zero of a session into how far it may be off.
import type { RigSpec } from '../model/rig.ts'
import type { Zero } from '../signal/zero.ts'

/** Uncertainty of the zero that was subtracted, as half-width of a rectangle, Pa. */
export function zeroHalfWidth(zero: Zero, rig: Pick<RigSpec, 'zeroPa' | 'digitPa'>): number {
  // Both ends known: anywhere between them, |after − before|/√12. Else what the rig states; a digit where it states nothing.
  // And never less than the rests between them scatter.
  const scatterPa = Math.sqrt(3) * (zero.vents?.scatterPa ?? 0)
  if (zero.before && zero.after) return Math.max(Math.abs(zero.after.meanPa - zero.before.meanPa) / 2, scatterPa)
  return Math.max(rig.zeroPa ?? rig.digitPa, scatterPa)
}
