// What a person types of an instrument's display into a value with its digit and its unit.
import { type KnownUnit, knownUnit } from '../core/model/units.ts'
import { readDisplay } from '../protocol/display-line.ts'

/** `value` as the display has it: Infinity for over-range. `unit` null where none was typed. */
export type Shown = { value: number; digit: number | null; unit: KnownUnit | null }

const closedWords = /^(short|shrt|shorted|closed?)$/i
const ohm = knownUnit('ohm')!

/** Null where the text is not one number with or without a unit, nor a word for over-range, open or closed. */
export function readShown(text: string): Shown | null {
  const plain = text.trim().replaceAll('\u2212', '-')
  if (closedWords.test(plain)) return { value: 0, digit: null, unit: ohm }
  const shown = readDisplay(plain)
  const [only, more] = 'fault' in shown ? [] : shown.values
  if (only === undefined || more !== undefined || only.foreign !== null || Number.isNaN(only.value)) return null
  return { value: only.value, digit: only.digit, unit: only.unit }
}
