// Tolerance and contact interval into the rate at which to ramp through a trip.
import type { Rating } from '../model/part.ts'

/** Of the half tolerance: what sampling the contact may add to u. Shop rule, no standard. */
const samplingShare = 0.05
/** Of the rated point, per second: faster, a hand does not keep it steady. Common practice, no source. */
const steadyShare = 0.02

/**
 * Rate for the slow part of a stroke, Pa/s. Between two looks at the contact the pressure moves by rate × interval,
 * whose rectangle (JCGM 100:2008, 4.3.7) may take 5 % of the half tolerance: rate ≤ 0.05·√12·T/interval.
 */
export function rampRatePaPerS(
  { halfTolerancePa, ratedPa }: Pick<Rating, 'halfTolerancePa' | 'ratedPa'>,
  contactIntervalS: number,
): number {
  const bySampling = (samplingShare * Math.sqrt(12) * halfTolerancePa) / contactIntervalS
  return Math.min(bySampling, steadyShare * ratedPa)
}
