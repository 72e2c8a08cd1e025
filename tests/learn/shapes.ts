// Made-up instruments as lists of what they send, for what a display shows: for tests of learning a line.
import { bindDecode, type Driver, resolveOptions, type SerialSettings } from '../../src/driver.ts'
import type { Piece } from '../../src/learn/heard.ts'

export const plainSetting: SerialSettings = { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 }

/** Lines that come by themselves, one piece each, a tenth of a second apart; the first of them is cut. */
export function unasked(lines: readonly string[]): Piece[] {
  return lines.map((text, i) => ({ atMs: 100 * i, way: 'received', text: i === 0 ? text.slice(3) : text }))
}

/** A query and its answer, `times` over. */
export function asked(query: string, answer: string, times = 3): Piece[] {
  return Array.from({ length: times }, (_, i): Piece[] => [
    { atMs: 200 * i, way: 'sent', text: query },
    { atMs: 200 * i + 20, way: 'received', text: answer },
  ]).flat()
}

/** What a rig that was learned so reads of pieces, in Pa or ohm. */
export function valuesRead(
  driver: Driver,
  options: object,
  role: 'manometer' | 'meter' | 'bridge',
  pieces: readonly Piece[],
) {
  const decode = bindDecode(driver, resolveOptions(driver, options as never), role)
  let memory: unknown = null
  return pieces.flatMap(({ text, way }) => {
    const decoded = decode(memory, text, way)
    memory = decoded.memory
    return decoded.readings.map(({ quantity, value }) => ({ quantity, value }))
  })
}
