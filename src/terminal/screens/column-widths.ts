// What the columns of a list need into what they get: where there is too little room, some give way before others.

const gap = 2
/** A column that would be narrower tells nothing: it goes. */
const leastCells = 4

/**
 * Widths of columns that need `needed` cells, in `room` cells with two between neighbours. `giveWay`: the columns that are
 * narrowed first, in this order, each until it is gone (0, and its gap with it); then the others, from the last to the
 * first. The one that is left at the end keeps the whole room.
 */
export function columnWidths(needed: readonly number[], room: number, giveWay: readonly number[] = []): number[] {
  const widths = [...needed]
  const others = widths.map((_, column) => column).filter((column) => !giveWay.includes(column))
  const excess = () => {
    const shown = widths.filter((width) => width > 0)
    return shown.reduce((sum, width) => sum + width, 0) + gap * Math.max(0, shown.length - 1) - room
  }
  const order = [...giveWay, ...others.reverse()].filter((column) => (widths[column] ?? 0) > 0)
  for (const [place, column] of order.entries()) {
    const over = excess()
    if (over <= 0) break
    const rest = widths[column]! - over
    const isLast = place === order.length - 1
    widths[column] = rest >= leastCells ? rest : isLast ? Math.max(1, rest) : 0
  }
  return widths
}
