// The part under test: its file's shape, and its ratings and limits in pascal.
import { z } from 'zod'
import { amount, looseObject, type ObjectMaker, strictObject, unitSchema } from './schema.ts'
import { type PressureUnit, pressureUnits } from './units.ts'

function partSchema(object: ObjectMaker) {
  const limit = object({ low: z.number().nullable(), high: z.number().nullable(), unit: unitSchema })
    .nullish()
    .superRefine((l, context) => {
      if (l && l.low !== null && l.high !== null && l.low >= l.high)
        context.addIssue({ code: 'custom', message: `low ${l.low} ${l.unit} is not below high ${l.high} ${l.unit}` })
    })
  return object({
    model: z.string().nullish(),
    serial: z.string().nullish(),
    lot: z.string().nullish(),
    condition: z.string().nullish(),
    kind: z.enum(['draft-proving', 'blockage']),
    rated: object({ value: z.number().positive(), unit: unitSchema, on: z.enum(['make', 'break']) }),
    limits: object({ make: limit, break: limit, differential: limit }).nullish(),
    contact: object({ maxOhm: z.number().positive().nullish() }).nullish(),
    proof: amount(object, z.number().positive()).nullish(),
  }).superRefine((part, context) => {
    if (!part.proof) return
    const ratedPa = part.rated.value * pressureUnits[part.rated.unit]
    if (part.proof.value * pressureUnits[part.proof.unit] < 2 * ratedPa)
      context.addIssue({
        code: 'custom',
        path: ['proof', 'value'],
        message: `${part.proof.value} ${part.proof.unit} is less than twice the rated point (${part.rated.value} ${part.rated.unit})`,
      })
  })
}

/** A part file: an unknown key is an error. */
export const partFileSchema = partSchema(strictObject)
/** The part inside a recording: unknown keys are kept. */
export const recordedPartSchema = partSchema(looseObject)
export type Part = z.infer<typeof partFileSchema>

export type LimitPa = { lowPa: number | null; highPa: number | null }

/** The numbers of a part in pascal; a limit that was not given is null (measured, not assessed). */
export type Rating = {
  kind: Part['kind']
  /** The unit its results are shown in first. */
  unit: PressureUnit
  ratedPa: number
  ratedOn: 'make' | 'break'
  /** Half tolerance T of the rated quantity: half the width of its limits, the distance to the one there is, else 12 % of the rated point. */
  halfTolerancePa: number
  limits: Record<'make' | 'break' | 'differential', LimitPa | null>
  maxOhm: number | null
  proofPa: number | null
}

/** Ratings and limits of `part` in pascal. */
export function ratingOf(part: Part): Rating {
  const inPa = (value: number, unit: PressureUnit) => value * pressureUnits[unit]
  const limitPa = (name: 'make' | 'break' | 'differential'): LimitPa | null => {
    const limit = part.limits?.[name]
    if (!limit || (limit.low === null && limit.high === null)) return null
    return {
      lowPa: limit.low === null ? null : inPa(limit.low, limit.unit),
      highPa: limit.high === null ? null : inPa(limit.high, limit.unit),
    }
  }
  const limits = { make: limitPa('make'), break: limitPa('break'), differential: limitPa('differential') }
  const ratedPa = inPa(part.rated.value, part.rated.unit)
  return {
    kind: part.kind,
    unit: part.rated.unit,
    ratedPa,
    ratedOn: part.rated.on,
    halfTolerancePa: halfTolerance(ratedPa, limits[part.rated.on]),
    limits,
    maxOhm: part.contact?.maxOhm ?? null,
    proofPa: part.proof ? inPa(part.proof.value, part.proof.unit) : null,
  }
}

// 12 % of the rated point is the tolerance of the worked examples (0.25 ± 0.03 inH2O): common practice, no source.
function halfTolerance(ratedPa: number, limit: LimitPa | null): number {
  if (limit === null) return 0.12 * ratedPa
  if (limit.lowPa !== null && limit.highPa !== null) return (limit.highPa - limit.lowPa) / 2
  const gap = Math.abs((limit.lowPa ?? limit.highPa ?? ratedPa) - ratedPa)
  return gap > 0 ? gap : 0.12 * ratedPa
}
