// Two readings of one shape: strict for files a person writes (an unknown key is an error), loose for recordings.
import { z } from 'zod'
import { type PressureUnit, pressureUnit } from './units.ts'

/** Builds an object schema; which of the two is in force is chosen where the whole schema is made. */
export type ObjectMaker = <S extends z.ZodRawShape>(shape: S) => z.ZodObject<S>

export const strictObject: ObjectMaker = (shape) => z.strictObject(shape) as unknown as z.ZodObject<typeof shape>
export const looseObject: ObjectMaker = (shape) => z.looseObject(shape) as unknown as z.ZodObject<typeof shape>

export const unitSchema = z.string().transform((text, context): PressureUnit => {
  const unit = pressureUnit(text)
  if (unit !== null) return unit
  context.addIssue({
    code: 'custom',
    message: `"${text}" is no pressure unit known here (inH2O, mmH2O, cmH2O, Pa, hPa, kPa, mbar, psi, inHg, mmHg, Torr)`,
  })
  return z.NEVER
})

/** A pressure with its unit; `min` and `max` bound the bare number. */
export const amount = (object: ObjectMaker, number: z.ZodNumber = z.number()) =>
  object({ value: number, unit: unitSchema })

/** The first few things wrong with a value, each as `field: what`; the field is a path such as `limits.make.low`. */
export function issueLines(error: z.ZodError): string[] {
  return error.issues.slice(0, 3).map((issue) => {
    const path = issue.path.join('.')
    if (issue.code === 'unrecognized_keys')
      return `unknown field ${issue.keys.map((k) => `"${path ? `${path}.` : ''}${k}"`).join(', ')}`
    return path ? `${path}: ${issue.message}` : issue.message
  })
}
