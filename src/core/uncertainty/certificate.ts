// The points of a manometer's certificate into what they leave uncertain, and where they reach.
import { criteria } from '../criteria.table.ts'
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

/** Whether the points alone tell nothing of what lies between them. */
export const isBare = ({ points }: Certificate): boolean => points.length <= criteria.barePoints

/**
 * By how much the correction may lie off the straight line between two points, Pa, as half-width of a rectangle: the
 * remainder of linear interpolation, |c[x1, x2, x3]|·(x − a)(b − x) with the greater second divided difference beside it
 * (any textbook of numerical analysis, from memory), and never less than a share of the accuracy `accuracyPa`, greatest half way
 * (shop rule). 0 at a point, and beyond the ends.
 */
export function betweenPointsPa(calibration: Certificate, readingPa: number, accuracyPa: number): number {
  const { points } = calibration
  const next = points.findIndex((p) => p.readingPa >= readingPa)
  const [a, b] = [points[next - 1], points[next]]
  if (a === undefined || b === undefined) return 0
  const product = (readingPa - a.readingPa) * (b.readingPa - readingPa)
  const bends = [points[next - 2], points[next + 1]].flatMap((c) => (c ? Math.abs(bend(a, b, c)) : []))
  const share = isBare(calibration) ? criteria.betweenBareShare : criteria.betweenShare
  const ofAccuracy = (share * accuracyPa * 4 * product) / (b.readingPa - a.readingPa) ** 2
  return Math.max(...bends.map((each) => each * product), ofAccuracy)
}

type Point = Certificate['points'][number]

/** Second divided difference of the corrections, 1/Pa. */
function bend(a: Point, b: Point, c: Point): number {
  const slope = (p: Point, q: Point) => (q.correctionPa - p.correctionPa) / (q.readingPa - p.readingPa)
  return (slope(b, c) - slope(a, b)) / (c.readingPa - a.readingPa)
}
