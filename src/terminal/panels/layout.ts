// The size of a terminal into the rectangles of the bench screen: nothing overlaps, nothing reaches outside, the last row stays free.

export type Size = { columns: number; rows: number }
/** Cells from the top left corner. */
export type Rect = { x: number; y: number; width: number; height: number }

export type Place =
  | 'header'
  | 'steps'
  | 'say'
  | 'pressure'
  | 'contact'
  | 'hand'
  | 'trace'
  | 'loop'
  | 'estimates'
  | 'bands'
  | 'cycles'
  | 'findings'
  | 'links'
  | 'keys'

export type Layout = {
  /** `lines`: too small for pictures, everything in a few lines. */
  kind: 'panels' | 'lines'
  /** The whole screen that may be drawn on. */
  all: Rect
  /** Largest scale of the large digits. */
  scale: 1 | 2 | 3 | 4
  places: Partial<Record<Place, Rect>>
}

const leastColumns = 60
const leastRows = 16
/** Rows of large digits at each scale: five squares of `scale` half cells. */
const digitRows = { 1: 3, 2: 5, 3: 8, 4: 10 } as const
const estimateRows = 4
/** What lag and leak leave open, below the estimates. */
export const allowedRows = 2
const bandRows = 4
export const loopRows = 6
/** Numbers with their limits and outcomes in words. */
export const numberColumns = 74

/**
 * Where everything is on a terminal of `size`; below 60 × 16, and for sizes that are not positive numbers, a layout of
 * plain lines. Where findings have no place of their own a row is made for them once there is one (`found`); where a value may lie
 * beyond its U the estimates take rows from the cycles (`open`).
 */
export function layoutOf(size: Size, found = false, open = false): Layout {
  const width = Math.max(1, Math.floor(size.columns) || 1)
  // A frame as tall as the window is cleared whole at each change on some terminals: one row stays free.
  const height = Math.max(1, (Math.floor(size.rows) || 1) - 1)
  const all = { x: 0, y: 0, width, height }
  if (width < leastColumns || height < leastRows - 1) return { kind: 'lines', all, scale: 1, places: {} }

  const roomy = width >= 120 && height >= 38
  const scale =
    width >= 150 && height >= 50 ? 4 : width >= 100 && height >= 29 ? 3 : width >= 76 && height >= 21 ? 2 : 1
  const places: Layout['places'] = {}
  let y = 0
  const take = (place: Place, rows: number) => {
    places[place] = { x: 0, y, width, height: rows }
    y += rows
  }
  take('header', 1)
  if (height >= 21) take('steps', 1)
  take('say', height >= 38 ? 5 : height >= 21 ? 3 : 2)

  const left = Math.floor(width * 0.54)
  const tall = digitRows[scale] + 1
  places.pressure = { x: 1, y, width: left - 1, height: tall }
  places.contact = { x: left + 1, y, width: width - left - 2, height: tall }
  y += tall
  take('hand', height >= 38 ? 3 : 2)

  const foot = height - 2
  const own = height >= 28 ? Math.min(4, Math.floor((foot - y) / 4)) : 0
  const findings = roomy ? 0 : own > 0 ? own : found ? 1 : 0
  placeLower(places, { x: 0, y, width, height: foot - y - findings }, roomy ? own : 0, open)
  if (findings > 0) places.findings = { x: 0, y: foot - findings, width, height: findings }
  places.links = { x: 0, y: foot, width, height: 1 }
  places.keys = { x: 0, y: foot + 1, width, height: 1 }
  return { kind: 'panels', all, scale, places }
}

/** Pictures on the left, numbers and `findings` rows on the right; the numbers alone where both would be too small to read. */
function placeLower(places: Layout['places'], room: Rect, findings: number, open: boolean): void {
  const beside = room.width >= 76 && room.height >= 6
  const numbers = room.width >= 120 ? numberColumns : Math.min(38, room.width - 1)
  const x = beside ? room.width - numbers : 1
  const loop = room.height >= 14 ? loopRows : 0
  if (beside)
    stack(places, { ...room, width: x - 2 }, [
      ['trace', room.height - loop],
      ['loop', loop],
    ])
  const bands = room.height >= 12 && numbers >= 60 && beside ? bandRows : 0
  const estimates = Math.min(estimateRows + (open ? allowedRows : 0), room.height)
  stack(places, { ...room, x, width: room.width - x }, [
    ['estimates', estimates],
    ['bands', bands],
    ['cycles', room.height - estimates - bands - findings],
    ['findings', findings],
  ])
}

/** Places one below the other; those with fewer than two rows are left out. */
function stack(places: Layout['places'], room: Rect, rows: readonly (readonly [Place, number])[]): void {
  let { y } = room
  for (const [place, height] of rows) {
    if (height < 2) continue
    places[place] = { ...room, y, height }
    y += height
  }
}
