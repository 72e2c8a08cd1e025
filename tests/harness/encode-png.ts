// Pixels into the bytes of a PNG file, of 8 bits a sample unless told, each row with another of the five filters.
import { crc32, deflateSync } from 'node:zlib'

const samples: Record<number, number> = { 0: 1, 2: 3, 3: 1, 4: 2, 6: 4 }

export type PngParts = { interlace?: number; palette?: number[]; clear?: number[] }

/** `at` gives the samples of a pixel, as many as the colour type has. */
export function encodePng(
  width: number,
  height: number,
  colour: number,
  at: (x: number, y: number) => number[],
  { interlace = 0, palette, clear }: PngParts = {},
): Buffer {
  const step = samples[colour]!
  const length = width * step
  const raw = Array.from({ length: height }, (_, y) => Array.from({ length: width }, (_, x) => at(x, y)).flat())
  const rows = raw.map((row, y) => {
    const filter = y % 5
    return [
      filter,
      ...Array.from({ length }, (_, i) => {
        const left = i < step ? 0 : row[i - step]!
        const up = raw[y - 1]?.[i] ?? 0
        const corner = i < step ? 0 : (raw[y - 1]?.[i - step] ?? 0)
        const guess = [0, left, up, (left + up) >> 1, nearest(left, up, corner)][filter]!
        return (row[i]! - guess + 256) % 256
      }),
    ]
  })
  const head = Buffer.alloc(13)
  head.writeUInt32BE(width, 0)
  head.writeUInt32BE(height, 4)
  head.set([8, colour, 0, 0, interlace], 8)
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', head),
    ...(palette ? [chunk('PLTE', Buffer.from(palette))] : []),
    ...(clear ? [chunk('tRNS', Buffer.from(clear))] : []),
    chunk('IDAT', deflateSync(Buffer.from(rows.flat()))),
    chunk('IEND', Buffer.alloc(0)),
  ])
}

/** Of the three neighbours the one nearest to left + up − corner; in a tie the first of left, up, corner (PNG, 9.4). */
function nearest(left: number, up: number, corner: number): number {
  const goal = left + up - corner
  return [left, up, corner].reduce((best, each) => (Math.abs(goal - each) < Math.abs(goal - best) ? each : best))
}

function chunk(type: string, data: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(type, 'latin1'), data])
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)]
  length.writeUInt32BE(data.length)
  check.writeUInt32BE(crc32(named))
  return Buffer.concat([length, named, check])
}
