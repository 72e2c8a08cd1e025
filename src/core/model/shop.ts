// The settings of a shop as its file states them: the head of its reports, and how it writes numbers.
import { z } from 'zod'
import { type Decimal, decimals, type Paper, papers } from './paper-forms.ts'
import { about, unitSchema } from './schema.ts'
import type { PressureUnit } from './units.ts'

/** As many as the head of a page has room for. */
const mostChars = { name: 60, line: 120 } as const

export const shopFileSchema = z.strictObject({
  name: z
    .string()
    .max(mostChars.name)
    .optional()
    .meta(about('shop', 'Its name, at the head of each report; left out: not recorded.', { example: 'Hollin Lane' })),
  address: z
    .string()
    .max(mostChars.line)
    .optional()
    .meta(
      about('address', 'In one line, as a customer writes to it; left out: not recorded.', {
        example: '4 Hollin Lane, Northwick',
      }),
    ),
  place: z
    .string()
    .max(mostChars.line)
    .optional()
    .meta(about('place of the tests', 'Where parts are tested; left out: not recorded.', { example: 'bench room' })),
  logo: z
    .string()
    .max(1000)
    .optional()
    .meta(about('logo', 'Path of a PNG file, for the head of each report; left out: none.', { example: 'logo.png' })),
  paper: z
    .enum(papers)
    .optional()
    .meta(about('paper', 'Of reports; left out: a4.', { example: 'a4' })),
  unit: unitSchema
    .optional()
    .meta(
      about('second unit', 'Behind the unit of the rating, which a report has first; left out: Pa.', { example: 'Pa' }),
    ),
  decimal: z
    .enum(decimals)
    .optional()
    .meta(about('decimal sign', 'In CSV tables: with a comma, columns are parted by semicolons; left out: point.')),
})

/** What is not stated is null, or what is usual. */
export type Shop = {
  name: string | null
  address: string | null
  place: string | null
  /** Path of a PNG file. */
  logo: string | null
  paper: Paper
  unit: PressureUnit
  decimal: Decimal
}

export function shopOf(file: z.infer<typeof shopFileSchema>): Shop {
  const { name, address, place, logo, paper = 'a4', unit = 'Pa', decimal = 'point' } = file
  const stated = (text: string | undefined) => text?.trim() || null
  return {
    name: stated(name),
    address: stated(address),
    place: stated(place),
    logo: stated(logo),
    paper,
    unit,
    decimal,
  }
}
