// A number into text with its last figure at a decimal place.

/** `value` to the nearest 10^`place`, no exponent: 61.6 at -2 is `61.60`, 1245 at 1 is `1250`. Never a minus before a zero. */
export function atPlace(value: number, place: number): string {
  const text = place < 0 ? value.toFixed(-place) : String(Math.round(value / 10 ** place) * 10 ** place)
  return /^-[0.]*$/.test(text) ? text.slice(1) : text
}
