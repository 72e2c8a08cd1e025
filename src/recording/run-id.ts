// The wall-clock time into the id of a recording: a UUID of version 7, so that ids sort by time.
import { randomBytes } from 'node:crypto'

/** A UUID v7 (RFC 9562, section 5.7) for `unixMs`, milliseconds since 1970; `random` is 10 bytes, by default fresh ones. */
export function createRunId(unixMs: number, random: Buffer = randomBytes(10)): string {
  const bytes = Buffer.alloc(16)
  bytes.writeUIntBE(unixMs, 0, 6)
  random.copy(bytes, 6)
  bytes[6] = 0x70 | (bytes[6]! & 0x0f)
  bytes[8] = 0x80 | (bytes[8]! & 0x3f)
  const hex = bytes.toString('hex')
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-')
}
