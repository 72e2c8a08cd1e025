// Size of a sample into the factor k: mean ± k·s, or mean + k·s, holds a stated share of all parts with a stated
// confidence.
import { bisect } from 'simple-statistics'
import { chiSquaredQuantile } from './chi-squared.ts'
import { normalCdf, normalQuantile } from './normal.ts'

/**
 * Two-sided factor for normal parts by Howe's formula: NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3. It is
 * an approximation, less than 0.5 % below the exact factor from n = 20. n ≥ 2.
 */
export function twoSidedToleranceFactor(n: number, coverage: number, confidence: number): number {
  const z = normalQuantile((1 + coverage) / 2)
  return z * Math.sqrt(((n - 1) * (1 + 1 / n)) / chiSquaredQuantile(1 - confidence, n - 1))
}

/**
 * One-sided factor for normal parts, exact: the quantile of the noncentral t, same source. n ≥ 2, coverage ≥ 0.5; the
 * closed form that is printed beside it there is 20 % off at n = 6.
 */
export function oneSidedToleranceFactor(n: number, coverage: number, confidence: number): number {
  const shift = normalQuantile(coverage) * Math.sqrt(n)
  return bisect((k) => noncentralT(k * Math.sqrt(n), n - 1, shift) - confidence, 0, 1e4, 200, 1e-10)
}

/**
 * Probability of a noncentral t ≤ t: of a normal value + shift ≤ t·s, averaged over the distribution of s. Trapezoids
 * over w = ln s, whose density is exp(dof·(w − e^2w/2)) up to a factor; for a smooth integrand that dies out on both
 * sides they are good to the last digits.
 */
function noncentralT(t: number, dof: number, shift: number): number {
  let [sum, total] = [0, 0]
  for (let i = -400; i <= 80; i++) {
    const w = (0.1 * i) / Math.sqrt(dof)
    const density = Math.exp(dof * (w - Math.exp(2 * w) / 2 + 0.5))
    total += density
    sum += density * normalCdf(t * Math.exp(w) - shift)
  }
  return sum / total
}
