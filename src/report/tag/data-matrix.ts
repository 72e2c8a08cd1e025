// A text into the modules of its Data Matrix (ISO/IEC 16022), row by row from the top: true is dark. No quiet zone.
import { type DrawingContext, datamatrix } from 'bwip-js/generic'

export type Modules = readonly (readonly boolean[])[]

/** The drawing is asked for by its corners, so that only this one kind of code comes along from its package. */
export function dataMatrix(text: string): Modules {
  const corners: [number, number][][] = []
  let [unit, side] = [1, 0]
  const drawing: DrawingContext<void> = {
    scale: (x) => {
      unit = x
      return null
    },
    init: (width) => {
      side = width / unit
    },
    polygon: (points) => {
      corners.push(points.map(([x, y]) => [x / unit, y / unit]))
    },
    fill: () => {},
    line: () => {},
    hexagon: () => {},
    ellipse: () => {},
    text: () => {},
    measure: () => ({ width: 0, ascent: 0, descent: 0 }),
    end: () => {},
  }
  datamatrix({ bcid: 'datamatrix', text, scale: 1, padding: 0 }, drawing)
  if (side < 1 || !Number.isInteger(side) || corners.length === 0) throw new Error('tag: no Data Matrix came back')
  return Array.from({ length: side }, (_, row) =>
    Array.from({ length: side }, (_, column) => isInside(corners, column + 0.5, row + 0.5)),
  )
}

/** Whether a point is inside an odd number of outlines: crossings of the way to its left. */
function isInside(outlines: readonly (readonly [number, number])[][], x: number, y: number): boolean {
  let inside = false
  for (const ring of outlines)
    ring.forEach(([toX, toY], i) => {
      const [fromX, fromY] = ring.at(i - 1)!
      if (fromY > y !== toY > y && x > fromX + ((y - fromY) * (toX - fromX)) / (toY - fromY)) inside = !inside
    })
  return inside
}
