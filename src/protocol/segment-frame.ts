// Fourteen bytes that mirror the segments of a meter's display into its number text and what it shows beside that.
// Source of the bits: the table of such a display chip as published by an open project on instruments. The high half of
// each byte is its number, 1 to 14; the low halves are the segments.

export const segmentFrameBytes = 14

/** `digits`: with a point where the display has one, `0L` among them; a digit that is dark is a space. */
export type SegmentDisplay = { digits: string; symbols: ReadonlySet<SegmentSymbol> }

/** From bit 3 to bit 0 of bytes 1 and 10 to 14; of the last the maker of the meter decides. */
const symbolRows = {
  1: ['AC', 'DC', 'AUTO', 'RS232'],
  10: ['u', 'n', 'k', 'DIODE'],
  11: ['m', '%', 'M', 'BEEP'],
  12: ['F', 'OHM', 'REL', 'HOLD'],
  13: ['A', 'V', 'Hz', 'BATTERY'],
  14: ['USER3', 'USER2', 'USER1', 'USER0'],
} as const
export type SegmentSymbol = (typeof symbolRows)[keyof typeof symbolRows][number]

/** Segments of a digit: lower left, upper left, top; then bottom, lower right, middle, upper right. */
const shapes: Readonly<Record<number, string>> = {
  0: ' ',
  125: '0',
  5: '1',
  91: '2',
  31: '3',
  39: '4',
  62: '5',
  126: '6',
  21: '7',
  127: '8',
  63: '9',
  104: 'L',
}

/** Null where the bytes are not numbered 1 to 14, or a digit has a shape that is none. */
export function readSegments(frame: string): SegmentDisplay | null {
  const low = Array.from(frame, (byte) => byte.charCodeAt(0) & 15)
  if (low.length !== segmentFrameBytes || [...frame].some((byte, i) => byte.charCodeAt(0) >> 4 !== i + 1)) return null
  let digits = (low[1]! & 8) !== 0 ? '-' : ''
  for (const at of [1, 3, 5, 7]) {
    const shape = shapes[((low[at]! & 7) << 4) | low[at + 1]!]
    if (shape === undefined) return null
    // The upper bit of the first digit is the sign, of the others the point before them.
    digits += (at > 1 && (low[at]! & 8) !== 0 ? '.' : '') + shape
  }
  const symbols = Object.entries(symbolRows).flatMap(([byte, row]) =>
    row.filter((_, i) => (low[Number(byte) - 1]! & (8 >> i)) !== 0),
  )
  return { digits, symbols: new Set(symbols) }
}
