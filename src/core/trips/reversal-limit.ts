// Rated point, noise and digit into the fall of pressure that counts as a reversal, for the guide and for what voids a cycle.
import { criteria } from '../criteria.table.ts'

/** The pressure has turned back where it fell by more than this, Pa. */
export function reversalLimitPa({
  ratedPa,
  noisePa,
  digitPa,
}: {
  ratedPa: number
  noisePa: number
  digitPa: number
}): number {
  const { reversalShare, reversalNoises, reversalDigits } = criteria
  return Math.max(reversalShare * ratedPa, reversalNoises * noisePa, reversalDigits * digitPa)
}
