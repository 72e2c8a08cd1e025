// A share as the percentage that people read and write: `0.005` as `0.5 %`.
import { givenText } from './figures-text.ts'

/** The shortest percentage that is the same number when it is read again. */
export const percentText = (share: number): string => `${givenText(share * 100, 15)} %`

/** The share that such a text states; null where it is no percentage. The sign alone tells it from a bare share. */
export function shareOfPercent(text: string): number | null {
  const [, number] = /^\s*([+-]?(?:\d+\.?\d*|\.\d+))\s*%\s*$/.exec(text) ?? []
  // Moved by its exponent, 0.7 % is 0.007 to the last bit, which 0.7 / 100 is not.
  return number === undefined ? null : Number(`${number}e-2`)
}
