// A long series into one that a plot can hold: nothing that could be seen is lost.

export type Point = { x: number; y: number }

/**
 * At most four points for each of `columns` equal steps of x: the first, the lowest, the highest and the last, in their
 * order. A null (a gap) is kept. `points` stand in the order of x; fewer than four a column come back as they are.
 */
export function thinPoints(points: readonly (Point | null)[], columns: number): (Point | null)[] {
  if (points.length <= 4 * columns) return [...points]
  const xs = points.filter((point) => point !== null).map((point) => point.x)
  const [from = 0, to = 0] = [xs[0], xs.at(-1)]
  const width = (to - from) / columns || 1
  const kept: (Point | null)[] = []
  let column: Point[] = []
  const close = () => {
    kept.push(...extremes(column))
    column = []
  }
  let current = 0
  for (const point of points) {
    if (point === null) {
      close()
      kept.push(null)
      continue
    }
    const next = Math.floor((point.x - from) / width)
    if (next !== current) close()
    current = next
    column.push(point)
  }
  close()
  return kept
}

function extremes(column: readonly Point[]): Point[] {
  const [first] = column
  if (!first) return []
  let [low, high] = [0, 0]
  for (const [i, point] of column.entries()) {
    if (point.y < column[low]!.y) low = i
    if (point.y > column[high]!.y) high = i
  }
  const indexes = [...new Set([0, low, high, column.length - 1])].sort((a, b) => a - b)
  return indexes.map((i) => column[i]!)
}
