// Points of a line drawn in straight pieces into its height between them.

/**
 * Height at `x` by straight lines between `points`, in rising order of x; beyond them that of the end, 0 for none.
 * `xOf` and `yOf` read a point.
 */
export function interpolate<P>(
  points: readonly P[],
  x: number,
  xOf: (point: P) => number,
  yOf: (point: P) => number,
): number {
  const next = points.findIndex((p) => xOf(p) >= x)
  const [a, b] = [points[next - 1], points[next]]
  if (a === undefined || b === undefined) {
    const end = next < 0 ? points.at(-1) : b
    return end === undefined ? 0 : yOf(end)
  }
  return yOf(a) + ((yOf(b) - yOf(a)) * (x - xOf(a))) / (xOf(b) - xOf(a))
}
