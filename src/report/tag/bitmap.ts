// Boxes and outlines into black and white dots, and those into a PNG of one bit a dot.
import { crc32 } from 'node:zlib'
import { zlibSync } from 'fflate'
import type { Ring } from './outlines.ts'

export type Bitmap = {
  width: number
  height: number
  /** A byte a dot, row by row: 1 is black. */
  dots: Uint8Array
}

export const blankBitmap = (width: number, height: number): Bitmap => ({
  width,
  height,
  dots: new Uint8Array(width * height),
})

/** Sets a box, in whole dots; what lies outside is left out. */
export function fillBox(
  { width, height, dots }: Bitmap,
  x: number,
  y: number,
  wide: number,
  high: number,
  dot = 1,
): void {
  for (let row = Math.max(0, y); row < Math.min(height, y + high); row++)
    dots.fill(dot, row * width + Math.max(0, x), row * width + Math.min(width, Math.max(0, x + wide)))
}

/** Lines within a dot at which an outline is cut. */
const cutsPerDot = 5
/** So much of a dot covered makes it black: less than half, for thin strokes print whole (shop rule). */
const enough = 0.42

/**
 * Sets the dots that an outline covers: its rings in em, the beginning of its baseline at `x`, `y`, an em `size` dots. Inside is
 * where the rings wind around (as in TrueType).
 */
export function fillOutline(bitmap: Bitmap, rings: readonly Ring[], x: number, y: number, size: number, dot = 1): void {
  const { width, height, dots } = bitmap
  const ys = rings.flatMap((ring) => ring.map(([, up]) => y - up * size))
  if (ys.length === 0) return
  const covered = new Float64Array(width)
  const last = Math.min(height - 1, Math.ceil(Math.max(...ys)))
  for (let row = Math.max(0, Math.floor(Math.min(...ys))); row <= last; row++) {
    covered.fill(0)
    for (let cut = 0; cut < cutsPerDot; cut++)
      for (const [from, to] of spansAt(rings, (y - (row + (cut + 0.5) / cutsPerDot)) / size))
        cover(covered, x + from * size, x + to * size)
    for (let column = 0; column < width; column++)
      if (covered[column]! >= enough * cutsPerDot) dots[row * width + column] = dot
  }
}

/** Where the line at the height `up` is inside, from left to right. */
function spansAt(rings: readonly Ring[], up: number): [from: number, to: number][] {
  const crossings: { x: number; turn: number }[] = []
  for (const ring of rings)
    ring.forEach(([toX, toY], i) => {
      const [fromX, fromY] = ring.at(i - 1)!
      if (fromY > up === toY > up) return
      crossings.push({ x: fromX + ((up - fromY) * (toX - fromX)) / (toY - fromY), turn: toY > fromY ? 1 : -1 })
    })
  crossings.sort((a, b) => a.x - b.x)
  const spans: [number, number][] = []
  let winding = 0
  for (const [i, { x, turn }] of crossings.entries()) {
    if (winding !== 0) spans.push([crossings[i - 1]!.x, x])
    winding += turn
  }
  return spans
}

/** Adds to each dot its share of the span. */
function cover(covered: Float64Array, from: number, to: number): void {
  for (let column = Math.max(0, Math.floor(from)); column < Math.min(covered.length, to); column++)
    covered[column] = covered[column]! + Math.min(to, column + 1) - Math.max(from, column)
}

const signature = Buffer.from([137, 80, 78, 71, 13, 10, 26, 10])

/** The file, by PNG (ISO/IEC 15948): greyscale, one bit a dot, `dotsPerM` told to whoever prints it. */
export function writePng({ width, height, dots }: Bitmap, dotsPerM: number): Buffer {
  const header = Buffer.alloc(13)
  header.writeUInt32BE(width, 0)
  header.writeUInt32BE(height, 4)
  header[8] = 1
  const density = Buffer.alloc(9)
  density.writeUInt32BE(dotsPerM, 0)
  density.writeUInt32BE(dotsPerM, 4)
  density[8] = 1
  const rowBytes = 1 + Math.ceil(width / 8)
  const rows = new Uint8Array(rowBytes * height)
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      // In a PNG a one is white.
      if (dots[y * width + x] === 0) rows[y * rowBytes + 1 + (x >> 3)]! |= 0x80 >> (x & 7)
  // Node's own compression differs from version to version.
  return Buffer.concat([
    signature,
    chunk('IHDR', header),
    chunk('pHYs', density),
    chunk('IDAT', Buffer.from(zlibSync(rows, { level: 9 }))),
    chunk('IEND', Buffer.alloc(0)),
  ])
}

function chunk(type: string, data: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(type, 'latin1'), data])
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)]
  length.writeUInt32BE(data.length)
  check.writeUInt32BE(crc32(named))
  return Buffer.concat([length, named, check])
}
