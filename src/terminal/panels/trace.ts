// Pressure against time into rows of characters: the curve in dots, limits as dashed rows, a sign at each trip, and the track of the switch below.
import type { TracePoint, TripMark } from '../../core/view/live.ts'

/** What the picture spans: times in s, pressures in Pa. */
export type TraceFrame = { startS: number; endS: number; lowPa: number; highPa: number }

/** A limit and the pressure at which its guard ends: between them results do not pass. */
export type Guard = { limitPa: number; endPa: number }

/** `braille`: eight dots a cell. `block`: two squares a cell, for terminals whose font has no braille. */
export type TraceDots = 'braille' | 'block'

export const limitSign = '╌'
export const guardSign = '░'
/** Of a limit's row whose guard ends within half a row, one cell in this many shows the guard. */
const guardEvery = 3
export const tripSigns = { make: '▲', break: '▼' } as const

/** Two points further apart than this are not joined: nothing was read between them. */
const gapS = 2
/** Times shown, s: the shortest that holds all points, so that a start is not stretched and the picture seldom changes its scale. */
const spansS = [30, 60, 120] as const
/** The scale of pressure goes in steps of this share of what it has to hold. */
const scaleStep = 0.05

/**
 * A frame that holds all of `points`, zero and every pressure of `keepPa`; with no point the first half minute. It moves
 * on by whole dots of a picture `dots` wide: between two of them the picture stays as it is.
 */
export function traceFrame(points: readonly TracePoint[], keepPa: readonly number[], dots = 120): TraceFrame {
  const [firstS, lastS] = [points[0]?.tS ?? 0, points.at(-1)?.tS ?? 0]
  const spanS = spansS.find((s) => s > lastS - firstS - 1) ?? lastS - firstS
  const dotS = spanS / Math.max(1, dots - 1)
  const startS = Math.max(0, Math.ceil((lastS - spanS) / dotS) * dotS)
  let lowPa = Math.min(0, ...keepPa)
  let highPa = Math.max(0, ...keepPa)
  const stepPa = highPa > lowPa ? (highPa - lowPa) * scaleStep : 1
  for (const { pressurePa } of points) {
    if (!Number.isFinite(pressurePa)) continue
    lowPa = Math.min(lowPa, pressurePa)
    highPa = Math.max(highPa, pressurePa)
  }
  // Noise about zero lies in the lowest row all the same.
  const low = lowPa < -stepPa / 2 ? Math.floor(lowPa / stepPa) * stepPa : 0
  return { startS, endS: startS + spanS, lowPa: low, highPa: (Math.floor(highPa / stepPa) + 1) * stepPa }
}

/** Row (0 = top) of a pressure in a picture of `rows` rows; null outside it. */
export function traceRow(frame: TraceFrame, pressurePa: number, rows: number): number | null {
  const place = placeOf(frame, pressurePa, rows)
  return place < 0 || place >= rows ? null : place
}

/** The picture: `rows` strings of `columns` characters. Points that are no number, or outside the frame, are left out. */
export function drawTrace(
  frame: TraceFrame,
  picture: {
    points: readonly TracePoint[]
    trips: readonly TripMark[]
    limitsPa: readonly number[]
    /** From each limit to where its guard ends. */
    guards?: readonly Guard[]
  },
  size: { columns: number; rows: number },
  dots: TraceDots = 'braille',
): string[] {
  const { columns, rows } = size
  if (columns <= 0 || rows <= 0) return []
  const grid = dotGrid(frame, picture.points, columns, rows, dots)
  const rowsOf = (pressuresPa: readonly number[]) => new Set(pressuresPa.map((pa) => traceRow(frame, pa, rows)))
  const limitRows = rowsOf(picture.limitsPa)
  const guardRows = rowsOfGuards(frame, picture.guards ?? [], rows)
  const cells = Array.from({ length: rows }, (_, row) =>
    Array.from({ length: columns }, (_, column) => {
      const char = cellChar(grid, column, row, dots)
      if (char !== ' ') return char
      const guarded = guardRows.has(row)
      if (!limitRows.has(row)) return guarded ? guardSign : ' '
      return guarded && column % guardEvery === 1 ? guardSign : limitSign
    }),
  )
  for (const trip of picture.trips) {
    const column = columnOf(frame, trip.tS, columns)
    const row = trip.pressurePa === null ? null : traceRow(frame, trip.pressurePa, rows)
    if (row === null || column < 0 || column >= columns) continue
    cells[row]![column] = tripSigns[trip.transition]
  }
  return cells.map((row) => row.join(''))
}

/** Rows of the guards, to the nearest row; of one that is less than half a row, the row of its limit. */
function rowsOfGuards(frame: TraceFrame, guards: readonly Guard[], rows: number): Set<number> {
  const guarded = new Set<number>()
  const rowPa = (frame.highPa - frame.lowPa) / Math.max(1, rows - 1)
  for (const { limitPa, endPa } of guards) {
    const at = placeOf(frame, limitPa, rows)
    const size = Math.round(Math.abs(endPa - limitPa) / rowPa)
    if (size === 0) guarded.add(at)
    // Rows count downwards.
    for (let n = 1; n <= size; n++) guarded.add(endPa > limitPa ? at - n : at + n)
  }
  return guarded
}

/** One row under the picture: `█` where the switch was actuated, `▁` at rest, a space where unknown or not yet reached. */
export function drawTrack(frame: TraceFrame, points: readonly TracePoint[], columns: number): string {
  const track = Array.from({ length: Math.max(0, columns) }, () => ' ')
  const mark = (from: number, to: number, actuated: boolean | null) => {
    if (actuated === null) return
    for (let column = Math.max(0, from); column <= Math.min(to, columns - 1); column++)
      track[column] = actuated ? '█' : '▁'
  }
  points.forEach((point, i) => {
    const next = points[i + 1]
    const joined = next !== undefined && next.tS - point.tS <= gapS
    const from = columnOf(frame, point.tS, columns)
    mark(from, joined ? columnOf(frame, next.tS, columns) : from, point.actuated)
  })
  return track.join('')
}

type Grid = { width: number; height: number; dots: Uint8Array }
const dotsPerCell = { braille: { x: 2, y: 4 }, block: { x: 1, y: 2 } } as const

function dotGrid(
  frame: TraceFrame,
  points: readonly TracePoint[],
  columns: number,
  rows: number,
  kind: TraceDots,
): Grid {
  const width = columns * dotsPerCell[kind].x
  const height = rows * dotsPerCell[kind].y
  const grid: Grid = { width, height, dots: new Uint8Array(width * height) }
  const set = (x: number, y: number) => {
    if (x >= 0 && x < width && y >= 0 && y < height) grid.dots[y * width + x] = 1
  }
  let before: { x: number; y: number; tS: number } | null = null
  for (const { tS, pressurePa } of points) {
    if (!Number.isFinite(pressurePa)) {
      before = null
      continue
    }
    const here = { x: columnOf(frame, tS, width), y: placeOf(frame, pressurePa, height), tS }
    if (before !== null && tS - before.tS <= gapS) join(before, here, set)
    else set(here.x, here.y)
    before = here
  }
  return grid
}

/** Every dot on the straight way between two dots, both ends included. */
function join(from: { x: number; y: number }, to: { x: number; y: number }, set: (x: number, y: number) => void): void {
  const steps = Math.max(Math.abs(to.x - from.x), Math.abs(to.y - from.y), 1)
  for (let i = 0; i <= steps; i++)
    set(Math.round(from.x + ((to.x - from.x) * i) / steps), Math.round(from.y + ((to.y - from.y) * i) / steps))
}

// Bits of the braille patterns U+2800…U+28FF by column and row: The Unicode Standard, chapter 21, "Braille Patterns".
const brailleBits = [
  [0x01, 0x02, 0x04, 0x40],
  [0x08, 0x10, 0x20, 0x80],
] as const

function cellChar(grid: Grid, column: number, row: number, kind: TraceDots): string {
  const dot = (x: number, y: number) => grid.dots[y * grid.width + x] === 1
  if (kind === 'block') {
    const upper = dot(column, 2 * row)
    const lower = dot(column, 2 * row + 1)
    return upper ? (lower ? '█' : '▀') : lower ? '▄' : ' '
  }
  let bits = 0
  for (let x = 0; x < 2; x++)
    for (let y = 0; y < 4; y++) if (dot(2 * column + x, 4 * row + y)) bits |= brailleBits[x]![y]!
  return bits === 0 ? ' ' : String.fromCodePoint(0x2800 + bits)
}

function columnOf(frame: TraceFrame, tS: number, width: number): number {
  return Math.round(((tS - frame.startS) / (frame.endS - frame.startS)) * (width - 1))
}

function placeOf(frame: TraceFrame, pressurePa: number, height: number): number {
  return Math.round(((frame.highPa - pressurePa) / (frame.highPa - frame.lowPa)) * (height - 1))
}
