// The points of a manometer's certificate into the correction of a displayed pressure and what it leaves uncertain.
import { z } from 'zod'
import { type ObjectMaker, unitSchema } from './schema.ts'
import { pressureUnits } from './units.ts'

/**
 * `points` as the certificate states them: what the manometer displays, what is to be added to it, and the expanded
 * uncertainty U of that, all in `unit`. `drift`: by how much it may have changed since, either way, in the same unit.
 */
export function calibrationSchema(object: ObjectMaker) {
  const point = object({ reading: z.number(), correction: z.number(), U: z.number().nonnegative() })
  return object({
    unit: unitSchema,
    points: z.array(point).min(2).max(100),
    coverage: z.number().min(1).max(5).default(2),
    drift: z.number().nonnegative(),
  }).superRefine(({ points, unit }, context) => {
    const mistake = mistakeIn(points, unit)
    if (mistake !== null) context.addIssue({ code: 'custom', path: ['points'], message: mistake })
  })
}

type Stated = { reading: number; correction: number; U: number }

function mistakeIn(points: readonly Stated[], unit: string): string | null {
  const sorted = points.toSorted((a, b) => a.reading - b.reading)
  if (sorted[0]!.reading > 0 || sorted.at(-1)!.reading < 0)
    return `they run from ${sorted[0]!.reading} to ${sorted.at(-1)!.reading} ${unit} and must reach 0, where the manometer is zeroed`
  const bare = sorted.find((p) => p.U === 0 && p.reading !== 0)
  if (bare) return `U at ${bare.reading} ${unit} is 0; it must be above 0 everywhere but at a reading of 0`
  for (const [i, b] of sorted.entries()) {
    const a = sorted[i - 1]
    if (a && a.reading === b.reading) return `the reading ${b.reading} ${unit} stands there twice`
    if (a && a.reading + a.correction >= b.reading + b.correction)
      return `corrected, ${b.reading} ${unit} is not above ${a.reading} ${unit}: check the sign of the corrections`
  }
  return null
}

/** The certificate in pascal and in the sense of the pressure that pushes the switch; points in rising order. */
export type Calibration = {
  points: readonly { readingPa: number; correctionPa: number; uPa: number }[]
  coverage: number
  /** Half-width of a rectangle, Pa. */
  driftPa: number
}

/** A checked `calibration` in pascal; `suctionSign` turns what is displayed into what pushes the switch. */
export function calibrationOf(
  { unit, points, coverage, drift }: z.infer<ReturnType<typeof calibrationSchema>>,
  suctionSign: 1 | -1,
): Calibration {
  const factor = pressureUnits[unit]
  const inSense = (value: number) => value * factor * suctionSign
  return {
    points: points
      .map(({ reading, correction, U }) => ({
        readingPa: inSense(reading),
        correctionPa: inSense(correction),
        uPa: (U * factor) / coverage,
      }))
      .sort((a, b) => a.readingPa - b.readingPa),
    coverage,
    driftPa: drift * factor,
  }
}

/**
 * The reading with its correction added, Pa: straight lines between the points. Beyond them nothing is known: the
 * correction of the last point is kept, so that the pressure has no step, and what lies there decides nothing
 * (`isCertified`).
 */
export function correctedPa({ points }: Calibration, readingPa: number): number {
  return readingPa + between(points, readingPa, 'correctionPa')
}

/**
 * Standard uncertainty of the correction at a reading, Pa. Between two points their uncertainties are joined by a
 * straight line, as if they were wholly correlated: JCGM 100:2008, 5.2.2 note 1. That is the greatest they can make.
 */
export function correctionUncertaintyPa({ points }: Calibration, readingPa: number): number {
  return between(points, readingPa, 'uPa')
}

function between(points: Calibration['points'], readingPa: number, of: 'correctionPa' | 'uPa'): number {
  const next = points.findIndex((p) => p.readingPa >= readingPa)
  const [a, b] = [points[next - 1], points[next]]
  if (!a || !b) return (next < 0 ? points.at(-1) : b)?.[of] ?? 0
  return a[of] + ((b[of] - a[of]) * (readingPa - a.readingPa)) / (b.readingPa - a.readingPa)
}

/** The corrected pressures that the points reach, Pa. */
export function certifiedRangePa({ points }: Calibration): { lowPa: number; highPa: number } {
  const [first, last] = [points[0]!, points.at(-1)!]
  return { lowPa: first.readingPa + first.correctionPa, highPa: last.readingPa + last.correctionPa }
}

/** Whether a corrected pressure lies between the points. */
export function isCertified(calibration: Calibration, pressurePa: number): boolean {
  const { lowPa, highPa } = certifiedRangePa(calibration)
  return pressurePa >= lowPa && pressurePa <= highPa
}
