// A series into its trend, by ranks and medians: one wild value does not bend it.
import { median } from './mean.ts'
import { normalCdf } from './normal.ts'

/**
 * Theil-Sen line: the median of all slopes between two points of different x, through the two medians. null where no
 * two x differ. P. K. Sen, Journal of the American Statistical Association 63 (1968) 1379, intercept by Conover, both
 * from memory.
 */
export function theilSen(xs: readonly number[], ys: readonly number[]): { slope: number; intercept: number } | null {
  const slopes: number[] = []
  for (const [j, x] of xs.entries())
    for (let i = 0; i < j; i++) if (xs[i] !== x) slopes.push((ys[j]! - ys[i]!) / (x - xs[i]!))
  const slope = median(slopes)
  return slope === null ? null : { slope, intercept: median(ys)! - slope * median(xs)! }
}

export type RankTrend = {
  /** Rising less falling pairs. */
  s: number
  /** Variance of s where there is no trend, ties allowed for. */
  varS: number
  /** s, one step nearer to 0, in standard deviations. */
  z: number
  /** s per pair: −1 … 1. */
  tau: number
  /**
   * Probability of an |s| at least as great without a trend, two-sided; exact up to ten values without ties, else by z.
   */
  p: number
}

/**
 * Mann-Kendall test of values in the order they came. null below three values (no order of two is rare). R. O. Gilbert,
 * Statistical Methods for Environmental Pollution Monitoring (1987), 16.4, from memory; exact table up to ten values as
 * advised there.
 */
export function mannKendall(values: readonly number[]): RankTrend | null {
  const n = values.length
  if (n < 3) return null
  let s = 0
  for (const [j, later] of values.entries()) for (let i = 0; i < j; i++) s += Math.sign(later - values[i]!)
  const counts = new Map<number, number>()
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1)
  const term = (k: number) => k * (k - 1) * (2 * k + 5)
  let varS = term(n)
  for (const count of counts.values()) varS -= term(count)
  varS /= 18
  const z = s === 0 ? 0 : (s - Math.sign(s)) / Math.sqrt(varS)
  const p = counts.size === n && n <= 10 ? exactShare(n, Math.abs(s)) : 2 * normalCdf(-Math.abs(z))
  return { s, varS, z, tau: (2 * s) / (n * (n - 1)), p }
}

/**
 * Share of all orders of n different values with |S| ≥ s. Orders are counted by their inversions q; S = n(n − 1)/2 −
 * 2q.
 */
function exactShare(n: number, s: number): number {
  let orders = [1]
  for (let size = 2; size <= n; size++) {
    const longer = new Array<number>(orders.length + size - 1).fill(0)
    // The value added last stands before 0 … size − 1 of the others.
    for (const [q, count] of orders.entries()) for (let more = 0; more < size; more++) longer[q + more]! += count
    orders = longer
  }
  const pairs = (n * (n - 1)) / 2
  const [all, extreme] = orders.reduce(
    ([sum, far], count, q) => [sum + count, far + (Math.abs(pairs - 2 * q) >= s ? count : 0)],
    [0, 0] as [number, number],
  )
  return extreme / all
}
