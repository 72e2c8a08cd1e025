// The regularised incomplete beta function I_x(a, b): the tails of Student's t and of F.
import { lnBeta } from './gamma.ts'

/** Below this a level of the fraction counts as zero and would divide by it. */
const tiny = 1e-300

/**
 * I_x(a, b) for a, b > 0, where x + y = 1. Both are asked for so that the one near 0 keeps its digits. NaN for NaN.
 * Continued fraction of NIST Digital Library of Mathematical Functions 8.17.22, by the modified Lentz method.
 */
export function incompleteBeta(x: number, y: number, a: number, b: number): number {
  if (x === 0 || y === 0) return x === 0 ? 0 : 1
  // The fraction converges fast only on this side of the mean.
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(y, x, b, a)
  const lnX = x < 0.5 ? Math.log(x) : Math.log1p(-y)
  const lnY = y < 0.5 ? Math.log(y) : Math.log1p(-x)
  return (Math.exp(a * lnX + b * lnY - lnBeta(a, b)) / a) * fraction(x, a, b)
}

function fraction(x: number, a: number, b: number): number {
  let c = 1
  let d = 1 / keepFromZero(1 - ((a + b) * x) / (a + 1))
  let product = d
  for (let m = 1; m < 100_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
    d = 1 / keepFromZero(1 + even * d)
    c = keepFromZero(1 + even / c)
    product *= c * d
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1))
    d = 1 / keepFromZero(1 + odd * d)
    c = keepFromZero(1 + odd / c)
    product *= c * d
    if (Math.abs(c * d - 1) < 1e-15) return product
  }
  return Number.NaN
}

function keepFromZero(value: number): number {
  return Math.abs(value) < tiny ? tiny : value
}
