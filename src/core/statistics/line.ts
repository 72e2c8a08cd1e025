// Points into the straight line of least squares, with the uncertainty of every number on it. Own code:
// simple-statistics finds the same intercept and slope (12 digits on the certified Norris data) but takes no weights
// and gives no uncertainties.

export type Line = {
  intercept: number
  slope: number
  uIntercept: number
  uSlope: number
  /** Covariance of intercept and slope. */
  covariance: number
  /** √(Σ w r² / dof): in the unit of y where the weights are 1. */
  residualSd: number
  dof: number
  /** Weighted mean point. Its height is independent of the slope. */
  xCentre: number
  yCentre: number
  uCentre: number
}

/**
 * The line y = intercept + slope·x; weights are relative (1/u² up to a factor, default all 1), the scale comes from the
 * scatter. null below three points (two always fit: nothing tells how well) and where all x are the same. JCGM 100:2008
 * (GUM), H.3, centred so that large offsets in x or y cost no digits.
 */
export function fitLine(xs: readonly number[], ys: readonly number[], weights?: readonly number[]): Line | null {
  const n = xs.length
  if (n < 3) return null
  const weight = (i: number) => weights?.[i] ?? 1
  let total = 0
  let [xRest, yRest] = [0, 0]
  for (let i = 0; i < n; i++) {
    total += weight(i)
    xRest += weight(i) * (xs[i]! - xs[0]!)
    yRest += weight(i) * (ys[i]! - ys[0]!)
  }
  const xCentre = xs[0]! + xRest / total
  const yCentre = ys[0]! + yRest / total
  let [sxx, sxy] = [0, 0]
  for (let i = 0; i < n; i++) {
    const dx = xs[i]! - xCentre
    sxx += weight(i) * dx * dx
    sxy += weight(i) * dx * (ys[i]! - yCentre)
  }
  if (!(sxx > 0)) return null
  const slope = sxy / sxx
  let squares = 0
  for (let i = 0; i < n; i++) squares += weight(i) * (ys[i]! - yCentre - slope * (xs[i]! - xCentre)) ** 2
  const dof = n - 2
  const residualSd = Math.sqrt(squares / dof)
  const uSlope = residualSd / Math.sqrt(sxx)
  const uCentre = residualSd / Math.sqrt(total)
  return {
    intercept: yCentre - slope * xCentre,
    slope,
    uIntercept: Math.hypot(uCentre, xCentre * uSlope),
    uSlope,
    covariance: -xCentre * uSlope ** 2,
    residualSd,
    dof,
    xCentre,
    yCentre,
    uCentre,
  }
}

/** Height of a fitted line at x and its standard uncertainty (of the line, not of a single point). */
export function lineAt(line: Line, x: number): { value: number; u: number } {
  const dx = x - line.xCentre
  return { value: line.yCentre + line.slope * dx, u: Math.hypot(line.uCentre, dx * line.uSlope) }
}
