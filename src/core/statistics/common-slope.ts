// Groups of points into parallel lines: one slope for all, one intercept each (analysis of covariance).

type PointGroup = { xs: readonly number[]; ys: readonly number[] }

type ParallelLines = {
  slope: number
  uSlope: number
  intercepts: number[]
  uIntercepts: number[]
  /** Covariance of the intercepts of groups i and j. */
  covariance: (i: number, j: number) => number
  residualSd: number
  dof: number
}

type Moments = { n: number; xMean: number; yMean: number; sxx: number; sxy: number }

/** Sums of one group about its own mean, so that large offsets cost no digits. */
function momentsOf({ xs, ys }: PointGroup): Moments {
  const n = xs.length
  const centre = (values: readonly number[]) => values[0]! + values.reduce((sum, v) => sum + (v - values[0]!), 0) / n
  const [xMean, yMean] = [centre(xs), centre(ys)]
  let [sxx, sxy] = [0, 0]
  for (let i = 0; i < n; i++) {
    const [dx, dy] = [xs[i]! - xMean, ys[i]! - yMean]
    sxx += dx * dx
    sxy += dx * dy
  }
  return { n, xMean, yMean, sxx, sxy }
}

const total = (moments: readonly Moments[], of: 'n' | 'sxx' | 'sxy') => moments.reduce((sum, m) => sum + m[of], 0)

/**
 * Least squares of y = intercept(group) + slope·x. null where a group is empty, where x varies in no group, or with no
 * more points than unknowns. N. R. Draper and H. Smith, Applied Regression Analysis, chapter on dummy variables, from
 * memory.
 */
export function fitCommonSlope(groups: readonly PointGroup[]): ParallelLines | null {
  if (groups.some((group) => group.xs.length === 0)) return null
  const moments = groups.map(momentsOf)
  const [sxx, sxy] = [total(moments, 'sxx'), total(moments, 'sxy')]
  const dof = total(moments, 'n') - groups.length - 1
  if (!(sxx > 0) || dof < 1) return null
  const slope = sxy / sxx
  const residualSd = Math.sqrt(residualSquares(groups, moments, slope) / dof)
  const uSlope = residualSd / Math.sqrt(sxx)
  const covariance = (i: number, j: number) =>
    moments[i]!.xMean * moments[j]!.xMean * uSlope ** 2 + (i === j ? residualSd ** 2 / moments[i]!.n : 0)
  return {
    slope,
    uSlope,
    intercepts: moments.map((m) => m.yMean - slope * m.xMean),
    uIntercepts: moments.map((_, i) => Math.sqrt(covariance(i, i))),
    covariance,
    residualSd,
    dof,
  }
}

function residualSquares(groups: readonly PointGroup[], moments: readonly Moments[], slope: number) {
  let squares = 0
  for (const [g, { xs, ys }] of groups.entries()) {
    const m = moments[g]!
    for (let i = 0; i < m.n; i++) squares += (ys[i]! - m.yMean - slope * (xs[i]! - m.xMean)) ** 2
  }
  return squares
}
