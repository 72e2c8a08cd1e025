// A number into text of so many significant figures, without an exponent.
import { atPlace } from '../statistics/at-place.ts'

/** Below this a number is shown as 0: nothing here is known so finely. */
const least = 1e-9

/** `value` to `figures` significant figures, zeros shown: 0.25 to three is `0.250`, 1245.4 is `1250`. Zero is `0`. */
export function figuresText(value: number, figures: number): string {
  if (Math.abs(value) < least) return '0'
  // The exponent after rounding: 0.09996 to three figures is 0.100.
  const exponent = Number(value.toExponential(figures - 1).split('e')[1])
  return atPlace(value, exponent - (figures - 1))
}

/** A number as it was given: at most `figures` significant figures, no zeros behind. */
export function givenText(value: number, figures: number): string {
  return String(Number(value.toPrecision(figures)) + 0)
}
