// The points of a manometer's certificate: their shape in a rig file, and their numbers in pascal.
import { z } from 'zod'
import { about, type ObjectMaker, unitSchema } from './schema.ts'
import { pressureUnits } from './units.ts'

/** How many standard uncertainties make a stated one. */
export const coverageSchema = z
  .number()
  .min(1)
  .max(5)
  .meta(about('coverage', 'Coverage factor k of the uncertainty that is stated; mostly 2.', { example: 2 }))

/**
 * `points` as the certificate states them: what the manometer displays, what is to be added to it, and the expanded
 * uncertainty U of that, all in `unit`. `drift`: by how much it may have changed since, either way, in the same unit.
 */
export function certificateSchema(object: ObjectMaker) {
  const point = object({
    reading: z.number().meta(about('reading', 'What the manometer displays, with its sign.', { example: -0.5 })),
    correction: z.number().meta(about('correction', 'What is to be added to that reading.', { example: 0.002 })),
    U: z
      .number()
      .nonnegative()
      .meta(about('U', 'Expanded uncertainty of the corrected reading.', { example: 0.002 })),
  }).meta(about('point #'))
  return object({
    unit: unitSchema,
    coverage: coverageSchema.default(2),
    drift: z
      .number()
      .nonnegative()
      .meta(about('drift', 'By how much it may have changed since, either way.', { example: 0.001 })),
    points: z
      .array(point)
      .min(2)
      .max(100)
      .meta(about('points', 'Two or more, from one end of what is measured to the other, 0 among or between them.')),
  }).superRefine(({ points, unit }, context) => {
    const mistake = mistakeIn(points, unit)
    if (mistake !== null) context.addIssue({ code: 'custom', path: ['points'], message: mistake })
  })
}

type Stated = { reading: number; correction: number; U: number }

function mistakeIn(points: readonly Stated[], unit: string): string | null {
  // Too few are a mistake of their own.
  if (points.length < 2) return null
  const sorted = points.toSorted((a, b) => a.reading - b.reading)
  if (sorted[0]!.reading > 0 || sorted.at(-1)!.reading < 0)
    return `they run from ${sorted[0]!.reading} to ${sorted.at(-1)!.reading} ${unit} and must reach 0, where the manometer is zeroed`
  const bare = sorted.find((p) => p.U === 0 && p.reading !== 0)
  if (bare) return `U at ${bare.reading} ${unit} is 0; it must be above 0 everywhere but at a reading of 0`
  for (const [i, b] of sorted.entries()) {
    const a = sorted[i - 1]
    if (a && a.reading === b.reading) return `the reading ${b.reading} ${unit} is there twice`
    if (a && a.reading + a.correction >= b.reading + b.correction)
      return `corrected, ${b.reading} ${unit} is not above ${a.reading} ${unit}: check the sign of the corrections`
  }
  return null
}

/** The certificate in pascal and in the sense of the pressure that pushes the switch; points in rising order. */
export type Certificate = {
  points: readonly { readingPa: number; correctionPa: number; uPa: number }[]
  coverage: number
  /** Half-width of a rectangle, Pa. */
  driftPa: number
}

/** A checked `calibration` in pascal; `suctionSign` turns what is displayed into what pushes the switch. */
export function certificateOf(
  { unit, points, coverage, drift }: z.infer<ReturnType<typeof certificateSchema>>,
  suctionSign: 1 | -1,
): Certificate {
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
