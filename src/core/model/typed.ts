// What a person types in place of an instrument's bytes: its event in a recording, and the reading that it gives.
import { z } from 'zod'
import { pressureUnitNames } from './units.ts'

/** The driver id of an instrument that nobody hears: what it shows is typed. No driver may take it. */
export const typedDriver = 'typed'

/** `zero`: what it shows vented. `hold-start`, `hold-end`: held closed at a pressure, and what is left of it. `contact`: it has changed. */
export const typedPressures = ['make', 'break', 'hold-start', 'hold-end', 'zero'] as const
export type TypedPressure = (typeof typedPressures)[number]

const t = z.int().nonnegative()

/** A decimal number as a display shows it, with its sign. */
export const typedNumber = /^[-+]?\d{1,9}(\.\d{1,9})?$/

/** `text` and `digit` in `unit`, as displayed; of a contact `closed` or `open` and nothing else. */
export const typedSchema = z
  .looseObject({
    type: z.literal('typed'),
    t,
    what: z.enum([...typedPressures, 'contact']),
    text: z.string(),
    unit: z.enum(pressureUnitNames as readonly [(typeof pressureUnitNames)[number]]).nullish(),
    digit: z.number().positive().nullish(),
  })
  .superRefine(({ what, text, unit, digit }, context) => {
    const refuse = (path: string, message: string) => context.addIssue({ code: 'custom', path: [path], message })
    if (what === 'contact') {
      if (text !== 'closed' && text !== 'open') refuse('text', 'a contact is closed or open')
      return
    }
    if (!typedNumber.test(text)) refuse('text', 'must be a decimal number')
    if (unit == null) refuse('unit', 'is missing')
    if (digit == null) refuse('digit', 'is missing')
  })

export type TypedEvent = z.infer<typeof typedSchema>
/** What is typed, before the recording stamps its time. */
export type TypedOrder = Pick<TypedEvent, 'what' | 'text' | 'unit' | 'digit'>

/** A pressure that was typed; `rawPa` as a reading of the manometer has it, its zero not yet taken off; `text` as typed. */
export type TypedReading = { tUs: number; what: TypedPressure; text: string; rawPa: number; digitPa: number }

/** How a person reads an instrument: how late at most, s, and of a manometer the fastest pace through a trip, as a share of the rated point a second. Null where the rig does not state it. */
export type Typist = { reactionS: number | null; paceShare: number | null }
