// Two readings of one shape: strict for files a person writes (an unknown key is an error), loose for recordings; and what each of its fields means.
import { z } from 'zod'
import { type PressureUnit, pressureUnit, pressureUnitNames } from './units.ts'

/** Builds an object schema; which of the two is in force is chosen where the whole schema is made. */
export type ObjectMaker = <S extends z.ZodRawShape>(shape: S) => z.ZodObject<S>

export const strictObject: ObjectMaker = (shape) => z.strictObject(shape) as unknown as z.ZodObject<typeof shape>
export const looseObject: ObjectMaker = (shape) => z.looseObject(shape) as unknown as z.ZodObject<typeof shape>

/** What a person reads of a field: forms, help, messages and the JSON Schema are made from it. */
export type About = {
  /** What it is called, behind the labels of the objects that it is in; empty where those say it. */
  label: string
  /** Empty: that of its object. */
  help: string
  /** What its number is in. A pressure has its unit in the field `unit` beside it. */
  unit?: string
  example?: unknown
  /** What it is a share of: people read and write such a number in percent. */
  shareOf?: string
  /** A larger share is hardly meant: most often the percent sign is missing. */
  usualMost?: number
  /** The unit of the numbers beside it. */
  isUnit?: true
}

/** The `.meta()` of a field. */
export const about = (label: string, help = '', more: Omit<About, 'label' | 'help'> = {}) => ({ label, help, ...more })

/** A pressure unit in any spelling known here, as its canonical name. */
export const unitSchema = z
  .preprocess(
    (text) => (typeof text === 'string' ? (pressureUnit(text) ?? text) : text),
    z.enum(pressureUnitNames as readonly [PressureUnit, ...PressureUnit[]]),
  )
  .meta(about('unit', 'Unit of the numbers beside it.', { example: 'inH2O', isUnit: true }))

/** A pressure with its unit; `number` bounds the bare number. */
export const amount = (object: ObjectMaker, number: z.ZodNumber, example: number) =>
  object({ value: number.meta(about('', '', { example })), unit: unitSchema })

/** The first few things wrong with a value, each as `field: what`; the field is a path such as `limits.make.low`. */
export function issueLines(error: z.ZodError): string[] {
  return error.issues.slice(0, 3).map((issue) => {
    const path = issue.path.join('.')
    if (issue.code === 'unrecognized_keys')
      return `not a known field: ${issue.keys.map((k) => `"${path ? `${path}.` : ''}${k}"`).join(', ')}`
    return path ? `${path}: ${issue.message}` : issue.message
  })
}
