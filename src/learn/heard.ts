// What was heard at a port under one setting, and the same bytes as a setting of seven bits would have given them.
import type { Way } from '../core/model/reading.ts'
import type { SerialSettings } from '../driver.ts'

/** Bytes (latin1 text) that went one way at `atMs`. */
export type Piece = { atMs: number; way: Way; text: string }

export type Heard = { settings: SerialSettings; pieces: readonly Piece[] }

/** All that was received, in one text. */
export const receivedText = ({ pieces }: Pick<Heard, 'pieces'>): string =>
  pieces
    .filter(({ way }) => way === 'received')
    .map(({ text }) => text)
    .join('')

/** As many bytes with the eighth bit in use show what that bit is; fewer may be signs such as an ohm. */
const leastBytes = 8

/**
 * A line of seven bits heard with eight hands its parity over as the eighth. Where that bit keeps one rule in all bytes,
 * they are given without it and the setting that follows from it; null where it keeps none.
 */
export function withSevenBits(heard: Heard): Heard | null {
  const { settings, pieces } = heard
  const bytes = Array.from(receivedText(heard), (char) => char.charCodeAt(0))
  const high = bytes.filter((byte) => byte > 127).length
  if (settings.dataBits !== 8 || settings.parity !== 'none' || high < leastBytes) return null
  const even = bytes.filter((byte) => onesIn(byte) % 2 === 0).length
  const rules = [
    { share: even, setting: { dataBits: 7, parity: 'even', stopBits: 1 } },
    { share: bytes.length - even, setting: { dataBits: 7, parity: 'odd', stopBits: 1 } },
    { share: high, setting: { dataBits: 7, parity: 'none', stopBits: 2 } },
  ] as const
  const kept = rules.find(({ share }) => share === bytes.length)
  if (kept === undefined) return null
  return {
    settings: { ...settings, ...kept.setting },
    pieces: pieces.map((piece) => (piece.way === 'sent' ? piece : { ...piece, text: lowBits(piece.text) })),
  }
}

const lowBits = (text: string) => text.replace(/[\x80-\xff]/g, (char) => String.fromCharCode(char.charCodeAt(0) & 127))

function onesIn(byte: number): number {
  let ones = 0
  for (let rest = byte; rest > 0; rest >>= 1) ones += rest & 1
  return ones
}
