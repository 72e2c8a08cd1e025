// The part under test: its file's shape, and its ratings and limits in pascal.
import { z } from 'zod'
import { about, amount, looseObject, type ObjectMaker, strictObject, unitSchema } from './schema.ts'
import { type PressureUnit, pressureUnits } from './units.ts'

function partSchema(object: ObjectMaker) {
  const text = z.string().nullish()
  const limit = (name: string, low: number, high: number | null) => {
    const side = (of: string) => `${of} limit of the ${name} by the maker's document, where it has one.`
    return object({
      low: z
        .number()
        .nullable()
        .meta(about('low', side('Lower'), { example: low })),
      high: z
        .number()
        .nullable()
        .meta(about('high', side('Upper'), { example: high })),
      unit: unitSchema,
    })
      .nullish()
      .superRefine((l, context) => {
        if (l && l.low !== null && l.high !== null && l.low >= l.high)
          context.addIssue({ code: 'custom', message: `low ${l.low} ${l.unit} is not below high ${l.high} ${l.unit}` })
      })
      .meta(about(`${name} limits`, `Without limits the ${name} is measured, not assessed.`))
  }
  return object({
    model: text.meta(about('model', 'The type on the label.', { example: 'DP-62' })),
    serial: text.meta(
      about('serial number', 'Of a file for one part alone; a test can state another.', { example: 'A1047' }),
    ),
    lot: text.meta(about('lot', 'Lot or date code, where the label has one.', { example: '24W31' })),
    condition: text.meta(about('condition', 'New or used.', { example: 'new' })),
    kind: z.enum(['draft-proving', 'blockage']).meta(
      about('kind', 'draft-proving: proves that there is enough draft. blockage: opens at too much pressure.', {
        example: 'draft-proving',
      }),
    ),
    rated: object({
      value: z
        .number()
        .positive()
        .meta(about('', '', { example: 0.25 })),
      unit: unitSchema,
      on: z.enum(['make', 'break']).meta(
        about('on', 'make: the label names the transition on rising pressure; break: the way back.', {
          example: 'make',
        }),
      ),
    }).meta(
      about('rated point', 'The pressure on the label, without sign: what pushes the switch counts as positive.'),
    ),
    limits: object({
      make: limit('make', 0.22, 0.28),
      break: limit('break', 0.15, null),
      differential: limit('differential', 0.01, 0.09),
    })
      .nullish()
      .meta(about('', 'What make, break and differential must lie within.')),
    contact: object({
      maxOhm: z
        .number()
        .positive()
        .nullish()
        .meta(about('at most', '', { unit: 'ohm', example: 2 })),
    })
      .nullish()
      .meta(about('contact', 'Greatest resistance of the closed contact; without it the contact is not assessed.')),
    proof: amount(object, z.number().positive(), 10)
      .nullish()
      .meta(about('proof pressure', 'What the part takes without damage, at least twice the rated point.')),
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
