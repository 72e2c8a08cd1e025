// The chi-squared distribution: cumulative probability and quantile.
// Own code: simple-statistics 7.12 has a printed table only.
import { bisect } from 'simple-statistics'
import { lnGamma } from './gamma.ts'

/**
 * Probability of a value ≤ x with `dof` > 0 degrees of freedom; 0 for x ≤ 0. Power series of the incomplete gamma
 * function, Abramowitz and Stegun (1964), 26.4.6: about √dof + x terms.
 */
export function chiSquaredCdf(x: number, dof: number): number {
  if (!(x > 0)) return Number.isNaN(x) ? Number.NaN : 0
  // Beyond this less than e^−40 is left: B. Laurent and P. Massart, Annals of Statistics 28 (2000) 1302, lemma 1, from
  // memory.
  if (x > dof + 2 * Math.sqrt(40 * dof) + 80) return 1
  const a = dof / 2
  let term = Math.exp(a * Math.log(x / 2) - x / 2 - lnGamma(a + 1))
  let sum = term
  // Past its greatest term the series falls faster than a geometric one, so a term below the last bit ends it.
  for (let k = 1; term > sum * Number.EPSILON || k < x; k++) {
    term *= x / 2 / (a + k)
    sum += term
  }
  return Math.min(sum, 1)
}

/** The x below which a share 0 < p < 1 lies, to 1e-12 of the scale of the distribution. */
export function chiSquaredQuantile(p: number, dof: number): number {
  let high = dof + 10
  while (chiSquaredCdf(high, dof) < p) high *= 2
  return bisect((x) => chiSquaredCdf(x, dof) - p, 0, high, 200, 1e-12)
}
