// The points of a manometer's certificate into what they leave uncertain, and where they reach.
import type { Certificate } from '../model/certificate.ts'
import { interpolate } from '../statistics/interpolate.ts'

/**
 * Standard uncertainty of the correction at a reading, Pa. Between two points their uncertainties are joined by a
 * straight line, as if they were wholly correlated: JCGM 100:2008, 5.2.2 note 1. That is the greatest they can make.
 */
export function correctionUncertaintyPa({ points }: Certificate, readingPa: number): number {
  return interpolate(
    points,
    readingPa,
    (p) => p.readingPa,
    (p) => p.uPa,
  )
}

/** The corrected pressures that the points reach, Pa. */
export function certifiedRangePa({ points }: Certificate): { lowPa: number; highPa: number } {
  const [first, last] = [points[0]!, points.at(-1)!]
  return { lowPa: first.readingPa + first.correctionPa, highPa: last.readingPa + last.correctionPa }
}

/** Whether a corrected pressure lies between the points. */
export function isCertified(calibration: Certificate, pressurePa: number): boolean {
  const { lowPa, highPa } = certifiedRangePa(calibration)
  return pressurePa >= lowPa && pressurePa <= highPa
}
