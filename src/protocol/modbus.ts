// Registers to read into the Modbus RTU request for them, and bytes that come back into its answer. Bytes are latin1 text.
// Source: MODBUS Application Protocol Specification V1.1b3, 6.3, 6.4 and 7; MODBUS over Serial Line V1.02, 2.5.1 and B.2
// (clauses from memory).

const maxRegisters = 125

/** The CRC-16 of `bytes`: polynomial A001 (reflected), begun at FFFF. */
export function crc16(bytes: string): number {
  let crc = 0xffff
  for (let at = 0; at < bytes.length; at++) {
    crc ^= bytes.charCodeAt(at)
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xa001 : crc >>> 1
  }
  return crc
}

/** `bytes` with their CRC behind them, its low byte first. */
export function withCrc(bytes: string): string {
  const crc = crc16(bytes)
  return bytes + String.fromCharCode(crc & 0xff, crc >>> 8)
}

/** The request for registers from the lowest to the highest of `registers`; null where they are too many for one. */
export function readRequest(slave: number, functionCode: number, registers: readonly number[]): string | null {
  const [first, last] = [Math.min(...registers), Math.max(...registers)]
  const count = last - first + 1
  if (count > maxRegisters || last > 0xffff) return null
  return withCrc(String.fromCharCode(slave, functionCode, first >>> 8, first & 0xff, count >>> 8, count & 0xff))
}

/** What the bytes of a port begin with: an answer, the request itself coming back, a part of either, or neither. */
export type Found =
  | { kind: 'registers'; frame: string; data: string }
  | { kind: 'exception'; frame: string; code: number }
  | { kind: 'echo'; frame: string }
  | { kind: 'unfinished' }
  | { kind: 'foreign' }

/**
 * What `bytes` begin with after `request` went out. A frame ends by its length and its CRC, not by a gap, because USB
 * adapters hide gaps. The shortest of the frames that it may still become is decided first, so that more bytes never
 * change what was said of fewer.
 */
export function findAnswer(bytes: string, request: string): Found {
  const [slave, functionCode, , , high, low] = Array.from(request, (byte) => byte.charCodeAt(0)) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ]
  const dataBytes = 2 * (high * 256 + low)
  const frames = [
    { kind: 'exception', head: String.fromCharCode(slave, functionCode | 0x80), length: 5 },
    { kind: 'registers', head: String.fromCharCode(slave, functionCode, dataBytes), length: 5 + dataBytes },
    { kind: 'echo', head: request, length: request.length },
  ] as const
  for (const { kind, head, length } of frames.toSorted((a, b) => a.length - b.length)) {
    const frame = bytes.slice(0, length)
    if (frame.length < length) {
      if (head.startsWith(frame) || frame.startsWith(head)) return { kind: 'unfinished' }
    } else if (frame.startsWith(head) && withCrc(frame.slice(0, -2)) === frame) {
      if (kind === 'registers') return { kind, frame, data: frame.slice(3, -2) }
      return kind === 'exception' ? { kind, frame, code: frame.charCodeAt(2) } : { kind, frame }
    }
  }
  return { kind: 'foreign' }
}

const exceptions: Readonly<Record<number, string>> = {
  1: 'illegal function',
  2: 'illegal data address',
  3: 'illegal data value',
  4: 'device failure',
  5: 'acknowledged, not done yet',
  6: 'device busy',
  8: 'memory parity error',
  10: 'no gateway path',
  11: 'no answer behind the gateway',
}

export const exceptionText = (code: number) => `exception ${code}, ${exceptions[code] ?? 'no meaning known'}`
