// Tolerance and contact interval into the rate at which to ramp through a trip.
import { criteria } from '../criteria.table.ts'
import type { Rating } from '../model/part.ts'

/**
 * Rate for the slow part of a stroke, Pa/s. Between two looks at the contact the pressure moves by rate × interval,
 * whose rectangle (JCGM 100:2008, 4.3.7) may take a share of the half tolerance: rate ≤ share·√12·T/interval.
 */
export function rampRatePaPerS(
  { halfTolerancePa, ratedPa }: Pick<Rating, 'halfTolerancePa' | 'ratedPa'>,
  contactIntervalS: number,
): number {
  const bySampling = (criteria.samplingShare * Math.sqrt(12) * halfTolerancePa) / contactIntervalS
  return Math.min(bySampling, criteria.steadyShare * ratedPa)
}
