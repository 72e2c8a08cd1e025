// The bytes of a PNG file into its pixels on white paper, grey or red, green, blue, a byte each (W3C PNG, third edition).
import { crc32, inflateSync } from 'node:zlib'

export type Picture = { width: number; height: number; channels: 1 | 3; pixels: Buffer }

const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])

/** A logo of a few centimetres holds no more, and what is larger takes memory for nothing. */
export const mostPx = 2000

/** Samples of a pixel, by its colour type (11.2.1, table 12). */
const samplesOf: Record<number, number> = { 0: 1, 2: 3, 3: 1, 4: 2, 6: 4 }

type Header = { width: number; height: number; depth: number; colour: number }

/** What is wrong with it as a clause behind its name, in place of the picture, such as `is not a PNG file: …`. */
export function decodePng(bytes: Buffer): Picture | { why: string } {
  if (!bytes.subarray(0, signature.length).equals(signature))
    return { why: 'is not a PNG file: its first 8 bytes are other ones' }
  const chunks = chunksOf(bytes)
  if (chunks === null) return { why: 'is a damaged PNG file: a chunk is cut off or does not match its checksum' }
  const head = chunks.find(({ type }) => type === 'IHDR')?.data
  if (head?.length !== 13) return { why: 'is a damaged PNG file: it does not say how large it is' }
  const [width, height, depth, colour] = [head.readUInt32BE(0), head.readUInt32BE(4), head[8]!, head[9]!]
  if (width < 1 || height < 1 || width > mostPx || height > mostPx)
    return { why: `is ${width} × ${height} pixels; it must be at most ${mostPx} × ${mostPx}` }
  if (head[12] !== 0) return { why: 'is an interlaced PNG file; it must be one that is not' }
  if (samplesOf[colour] === undefined || ![1, 2, 4, 8, 16].includes(depth))
    return { why: `is a PNG file of colour type ${colour} and ${depth} bits, which does not exist` }
  const header = { width, height, depth, colour }
  const rows = rowsOf(header, Buffer.concat(chunks.flatMap(({ type, data }) => (type === 'IDAT' ? [data] : []))))
  if (rows === null) return { why: 'is a damaged PNG file: its pixels cannot be unpacked' }
  const dataOf = (name: string) => chunks.find(({ type }) => type === name)?.data ?? Buffer.alloc(0)
  return onWhite(header, rows, dataOf('PLTE'), dataOf('tRNS'))
}

/** Null where one is cut off or damaged. */
function chunksOf(bytes: Buffer): { type: string; data: Buffer }[] | null {
  const chunks: { type: string; data: Buffer }[] = []
  for (let at = signature.length; at < bytes.length; ) {
    if (at + 12 > bytes.length) return null
    const end = at + 8 + bytes.readUInt32BE(at)
    if (end + 4 > bytes.length || crc32(bytes.subarray(at + 4, end)) !== bytes.readUInt32BE(end)) return null
    const type = bytes.toString('latin1', at + 4, at + 8)
    chunks.push({ type, data: bytes.subarray(at + 8, end) })
    if (type === 'IEND') return chunks
    at = end + 4
  }
  return null
}

/** The bytes of each row with its filter undone (clause 9.2); null where they are not those of such a picture. */
function rowsOf({ width, height, depth, colour }: Header, packed: Buffer): Buffer[] | null {
  const bits = samplesOf[colour]! * depth
  const [length, step] = [Math.ceil((width * bits) / 8), Math.max(1, bits >> 3)]
  const size = height * (length + 1)
  let data: Buffer
  try {
    data = inflateSync(packed, { maxOutputLength: size + 1 })
  } catch {
    return null
  }
  if (data.length !== size) return null
  const rows: Buffer[] = []
  let above: Buffer = Buffer.alloc(length)
  for (let y = 0; y < height; y++) {
    const filter = data[y * (length + 1)]!
    if (filter > 4) return null
    const row = data.subarray(y * (length + 1) + 1, (y + 1) * (length + 1))
    for (let i = 0; i < length; i++) {
      const [left, up, corner] = [i < step ? 0 : row[i - step]!, above[i]!, i < step ? 0 : above[i - step]!]
      const guess = [0, left, up, (left + up) >> 1, filter === 4 ? paeth(left, up, corner) : 0][filter]!
      row[i] = (row[i]! + guess) & 0xff
    }
    rows.push(row)
    above = row
  }
  return rows
}

function paeth(left: number, up: number, corner: number): number {
  const guess = left + up - corner
  const [toLeft, toUp, toCorner] = [Math.abs(guess - left), Math.abs(guess - up), Math.abs(guess - corner)]
  if (toLeft <= toUp && toLeft <= toCorner) return left
  return toUp <= toCorner ? up : corner
}

/** What is transparent lets the paper through: no printer and no reader treats that otherwise. */
function onWhite({ width, height, depth, colour }: Header, rows: Buffer[], palette: Buffer, clear: Buffer): Picture {
  const samples = samplesOf[colour]!
  const channels = colour === 0 || colour === 4 ? 1 : 3
  const most = 2 ** Math.min(depth, 8) - 1
  const pixels = Buffer.alloc(width * height * channels)
  const sampleAt = (row: Buffer, i: number) => {
    if (depth === 8) return row[i]!
    if (depth === 16) return row[2 * i]!
    const perByte = 8 / depth
    return (row[Math.floor(i / perByte)]! >> (8 - depth * ((i % perByte) + 1))) & most
  }
  const isClear = (row: Buffer, at: number) =>
    clear.length === 2 * samples &&
    Array.from({ length: samples }, (_, i) => i).every((i) => {
      const wide = depth === 16 ? row.readUInt16BE(2 * (at + i)) : sampleAt(row, at + i)
      return clear.readUInt16BE(2 * i) === wide
    })
  rows.forEach((row, y) => {
    for (let x = 0; x < width; x++) {
      const at = x * samples
      const first = sampleAt(row, at)
      const alpha =
        colour === 3
          ? (clear[first] ?? 255)
          : samples % 2 === 0
            ? sampleAt(row, at + samples - 1)
            : isClear(row, at)
              ? 0
              : 255
      for (let i = 0; i < channels; i++) {
        const value = colour === 3 ? (palette[3 * first + i] ?? 0) : Math.round((sampleAt(row, at + i) * 255) / most)
        pixels[(y * width + x) * channels + i] = Math.round((value * alpha + 255 * (255 - alpha)) / 255)
      }
    }
  })
  return { width, height, channels, pixels }
}

/** `picture` made smaller by a whole number, its pixels averaged, so that it is at most `mostWidth` × `mostHeight`. */
export function shrink(picture: Picture, mostWidth: number, mostHeight: number): Picture {
  const { width, height, channels, pixels } = picture
  const by = Math.max(1, Math.ceil(width / mostWidth), Math.ceil(height / mostHeight))
  if (by === 1) return picture
  const [wide, high] = [Math.max(1, Math.floor(width / by)), Math.max(1, Math.floor(height / by))]
  const small = Buffer.alloc(wide * high * channels)
  for (let y = 0; y < high; y++)
    for (let x = 0; x < wide; x++)
      for (let i = 0; i < channels; i++) {
        let [sum, n] = [0, 0]
        for (let dy = 0; dy < by && y * by + dy < height; dy++)
          for (let dx = 0; dx < by && x * by + dx < width; dx++) {
            sum += pixels[((y * by + dy) * width + x * by + dx) * channels + i]!
            n++
          }
        small[(y * wide + x) * channels + i] = Math.round(sum / n)
      }
  return { width: wide, height: high, channels, pixels: small }
}
