// A pressure as shown and the state of the contact into the line of a board that is both: its own time first, its checksum last.

/** How wrong its clock runs (0.0001 = fast by 100 ppm), and what it says as the test begins, µs. */
export type BoardTruth = { skew: number; startUs: number }

/** A plain input with a pull-up of some 30 kΩ takes anything below for closed. */
export const boardClosedBelowOhm = 10_000

/** The line of a value taken at `timeUs`; `shown` is the number alone, or OL. The format is in DEVELOPERS.md. */
export function boardLine({ skew, startUs }: BoardTruth, timeUs: number, shown: string, closed: boolean): string {
  const boardUs = Math.round(startUs + timeUs * (1 + skew)) % 2 ** 32
  const body = `MB1,${boardUs},${shown},${closed ? 1 : 0}`
  return `${body}*${checksum(body)}\r\n`
}

/** CRC-16 with the polynomial A001 (reflected), begun at FFFF, four hexadecimal digits. */
function checksum(text: string): string {
  let crc = 0xffff
  for (let i = 0; i < text.length; i++) {
    crc ^= text.charCodeAt(i)
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xa001 : crc >>> 1
  }
  return crc.toString(16).toUpperCase().padStart(4, '0')
}
