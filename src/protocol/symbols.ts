// Latin1 text (one char a byte) into text whose ohm, micro and degree signs are one Unicode character each.

/**
 * Bytes that instruments send for a sign: UTF-8, then single bytes of latin1 (B5, B0), code page 437 (EA, E6, F8) and
 * the character set of common small displays (F4, E4, DF). The last two sets are from memory.
 */
const signs: readonly [RegExp, string][] = [
  [/\xe2\x84\xa6|\xce\xa9|[\xea\xf4]/g, 'Ω'],
  [/\xc2\xb5|\xce\xbc|[\xb5\xe6\xe4]/g, 'µ'],
  [/\xc2\xb0|[\xb0\xf8\xdf]/g, '°'],
]

/** `text` with the bytes of such signs in Unicode; other bytes stay as they are, so the result shows which it did not know. */
export function decodeSymbols(text: string): string {
  return /[\x80-\xff]/.test(text) ? signs.reduce((result, [bytes, sign]) => result.replace(bytes, sign), text) : text
}

/** Whether a line, its signs decoded, is text throughout: noise that happens to hold a digit or a word is none. */
export function isText(decoded: string): boolean {
  return /^[\t -~Ωµ°]*$/.test(decoded)
}
