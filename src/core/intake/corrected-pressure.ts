// A displayed pressure into the one that the manometer's certificate says it is.
import type { Certificate } from '../model/certificate.ts'
import { interpolate } from '../statistics/interpolate.ts'

/**
 * The reading with its correction added, Pa: straight lines between the points. Beyond them nothing is known: the
 * correction of the last point is kept, so that the pressure has no step, and what lies there decides nothing
 * (`isCertified`).
 */
export function correctedPa({ points }: Certificate, readingPa: number): number {
  return (
    readingPa +
    interpolate(
      points,
      readingPa,
      (p) => p.readingPa,
      (p) => p.correctionPa,
    )
  )
}
