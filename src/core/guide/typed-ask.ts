// What waits to be typed, and a text that was typed for it, into the question that it raises before it is recorded.
import { criteria } from '../criteria.table.ts'
import { type TypedPressure, typedNumber } from '../model/typed.ts'
import type { PressureUnit } from '../model/units.ts'
import { atPlace } from '../statistics/at-place.ts'
import { placeOfStep } from '../text/pressure-text.ts'

/** Numbers in `unit`, with the sign that the display has. */
export type TypedAsk = {
  what: TypedPressure
  /** What was typed last for the same; null where nothing was. */
  offered: string | null
  unit: PressureUnit
  /** The last digit of the display. */
  digit: number
  /** About what is to be expected. */
  expected: number
  fullScale: number | null
  /** The make of the stroke in progress. */
  made: number | null
}

const names: Record<TypedPressure, string> = {
  make: 'the make',
  break: 'the break',
  'hold-start': 'the pressure it is held at',
  'hold-end': 'what is left of it',
  zero: 'the zero',
}

/** What is asked for, as it is read in a sentence. */
export const askedName = ({ what }: TypedAsk): string => names[what]

/** The text as it is recorded: a comma and a typographic minus are meant as what they look like. */
export const typedText = (text: string): string => text.trim().replace(',', '.').replace(/^[−–]/, '-')

/** Why a text cannot be recorded, null where it can. */
export function typedFault(ask: TypedAsk, text: string): string | null {
  if (typedNumber.test(text)) return null
  return `Type a number as the display shows it, in ${ask.unit}, such as ${displayed(ask.expected, ask.digit)}.`
}

/** What speaks against a number, as a question; null where nothing does. What is recorded is never changed. */
export function typedDoubt(ask: TypedAsk, text: string): string | null {
  const { what, unit, digit, expected, fullScale, made } = ask
  const value = Number(text)
  const sign = expected < 0 ? -1 : 1
  if (fullScale !== null && Math.abs(value) > fullScale)
    return `${text} ${unit} is more than the full scale of ${fullScale} ${unit}. Is it right?`
  if (what === 'zero')
    return Math.abs(value) > criteria.typedZeroDigits * digit
      ? `The zero is ${text} ${unit}: are both ports open?`
      : null
  if (value * sign < 0)
    return `${text} ${unit} has the other sign: ${names[what]} is ${sign < 0 ? 'below' : 'above'} zero by the rig. Is it right?`
  const times = Math.abs(expected) > 0 ? Math.abs(value / expected) : 1
  if (times > criteria.typedFarTimes || times < 1 / criteria.typedFarTimes)
    return `${text} ${unit} is far from ${displayed(expected, digit)} ${unit}: are point and unit right?`
  if (what === 'break' && made !== null && value * sign >= made * sign)
    return `The break would be at ${text} ${unit}, no less than the make at ${made} ${unit}. Is it right?`
  const places = text.split('.')[1]?.length ?? 0
  return places > -placeOfStep(digit)
    ? `${text} ${unit} is finer than the last digit, ${digit} ${unit}. Is it right?`
    : null
}

/** The number one digit of the display up or down, from what is offered or expected where nothing is typed yet. */
export function steppedText(ask: TypedAsk, text: string, up: boolean): string {
  const from = typedNumber.test(typedText(text)) ? Number(typedText(text)) : Number(ask.offered ?? ask.expected)
  const sign = ask.expected < 0 ? -1 : 1
  // Up is more pressure on the switch, whatever sign it has.
  const value = from + (up ? 1 : -1) * sign * ask.digit
  return displayed(Math.round(value / ask.digit) * ask.digit, ask.digit)
}

/** A number as the display shows it. */
const displayed = (value: number, digit: number): string => atPlace(value, placeOfStep(digit))
