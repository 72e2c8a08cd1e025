// Points into the straight line of least squares, with the uncertainty of its slope. Own code:
// simple-statistics finds the same intercept and slope (12 digits on the certified Norris data) but gives no
// uncertainties.

export type Line = {
  intercept: number
  slope: number
  uSlope: number
  /** Standard deviation of the points about the line, √(Σ r² / dof), in the unit of y. */
  residualSd: number
  dof: number
}

/**
 * The line y = intercept + slope·x. null below three points (two always fit: nothing tells how well) and where all x are
 * the same. JCGM 100:2008 (GUM), H.3, centred so that large offsets in x or y cost no digits.
 */
export function fitLine(xs: ArrayLike<number>, ys: ArrayLike<number>): Line | null {
  const n = xs.length
  if (n < 3) return null
  let [xRest, yRest] = [0, 0]
  for (let i = 0; i < n; i++) {
    xRest += xs[i]! - xs[0]!
    yRest += ys[i]! - ys[0]!
  }
  const xCentre = xs[0]! + xRest / n
  const yCentre = ys[0]! + yRest / n
  let [sxx, sxy] = [0, 0]
  for (let i = 0; i < n; i++) {
    const dx = xs[i]! - xCentre
    sxx += dx * dx
    sxy += dx * (ys[i]! - yCentre)
  }
  if (!(sxx > 0)) return null
  const slope = sxy / sxx
  let squares = 0
  for (let i = 0; i < n; i++) squares += (ys[i]! - yCentre - slope * (xs[i]! - xCentre)) ** 2
  const dof = n - 2
  const residualSd = Math.sqrt(squares / dof)
  return { intercept: yCentre - slope * xCentre, slope, uSlope: residualSd / Math.sqrt(sxx), residualSd, dof }
}
