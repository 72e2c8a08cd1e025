// Number texts of instruments into values: IEEE 488.2 NR1, NR2, NR3, a decimal comma, and the special values of SCPI.

const numberText = /^([+-]?)\s*(\d+(?:[.,](\d*))?|[.,](\d+))(?:[eE]([+-]?\d{1,3}))?$/

/**
 * The value of a number text: an integer (NR1), a fixed point (NR2, also with a decimal comma) or one with an exponent
 * (NR3), as in IEEE 488.2, 8.7.2 to 8.7.4; null where the text is none of them.
 */
export function parseNumber(text: string): number | null {
  return numberText.test(text) ? numberIn(text) : null
}

function numberIn(text: string): number {
  const value = Number(text)
  return Number.isNaN(value) ? Number(text.replace(/\s/g, '').replace(',', '.')) : value
}

/** What one step of the last digit shown is worth: 0.001 for `-0.250`, 1e-5 for `4.30E-3`; null where the text is no number. */
export function digitSize(text: string): number | null {
  const match = numberText.exec(text)
  if (match === null) return null
  const decimals = (match[3] ?? match[4] ?? '').length
  return Number(`1e${Number(match[5] ?? 0) - decimals}`)
}

/**
 * The meaning of a number that an SCPI instrument sent: 9.9E37 is +Infinity (over-range), -9.9E37 is -Infinity, 9.91E37
 * of either sign is NaN (not a number); others stay (SCPI-1999 volume 1, 7.2.1.4 and 7.2.1.5; clauses from memory).
 * Compared at three digits, because instruments print these values with more or fewer of them.
 */
export function scpiValue(value: number): number {
  if (Math.abs(value) < 9e37) return value
  const size = Number(Math.abs(value).toPrecision(3))
  if (size === 9.91e37) return Number.NaN
  return size >= 9.9e37 ? Math.sign(value) * Number.POSITIVE_INFINITY : value
}
