// Student's t distribution for any real number of degrees of freedom: cumulative probability and quantile.
// Own code: simple-statistics 7.12 has no t distribution.
import { lnBeta } from './gamma.ts'
import { incompleteBeta } from './incomplete-beta.ts'
import { normalCdf, normalQuantile } from './normal.ts'

/** Probability of a value ≤ t with `dof` > 0 degrees of freedom; Infinity gives the normal distribution, else NaN. */
export function studentCdf(t: number, dof: number): number {
  if (dof === Number.POSITIVE_INFINITY) return normalCdf(t)
  if (!(dof > 0)) return Number.NaN
  return t > 0 ? 1 - upperTail(t, dof) : upperTail(-t, dof)
}

/** Abramowitz and Stegun (1964), 26.7.1 with 26.5.27: half of I_x(dof/2, 1/2) at x = dof/(dof + t²); t ≥ 0. */
function upperTail(t: number, dof: number): number {
  if (dof > 1e5) return normalCdf(-equivalentZ(t, dof))
  // Divided through by the greater of the two, so that nothing overflows.
  const ratio = (t / dof) * t
  const [x, y] = ratio > 1 ? [1 / ratio / (1 + 1 / ratio), 1 / (1 + 1 / ratio)] : [1 / (1 + ratio), ratio / (1 + ratio)]
  return incompleteBeta(x, y, dof / 2, 0.5) / 2
}

/**
 * The z with the same tail as t, for many degrees of freedom, where the fraction would be slow and lose digits.
 * G. W. Hill, Algorithm 395, Communications of the ACM 13 (1970) 617, from memory; the terms left out are below 1e-14
 * for t up to 12, and the tests hold it against 40-digit values.
 */
function equivalentZ(t: number, dof: number): number {
  const a = dof - 0.5
  const y = a * Math.log1p((t / dof) * t)
  return Math.sqrt(y) * (1 + (y + 3) / (48 * a * a))
}

function density(t: number, dof: number): number {
  const lnScale = lnBeta(dof / 2, 0.5) + Math.log(dof) / 2
  return Math.exp(-((dof + 1) / 2) * Math.log1p((t / dof) * t) - lnScale)
}

/** The t below which a share p lies; ∓∞ at 0 and 1, NaN for p outside 0 … 1 or dof not above 0. */
export function studentQuantile(p: number, dof: number): number {
  if (dof === Number.POSITIVE_INFINITY) return normalQuantile(p)
  if (!(dof > 0)) return Number.NaN
  if (p < 0.5) return -studentQuantile(1 - p, dof)
  if (p === 0.5) return 0
  if (p === 1) return Number.POSITIVE_INFINITY
  return p > 0.5 && p < 1 ? tailQuantile(1 - p, dof) : Number.NaN
}

/**
 * Newton on ln(tail) over ln(t). That curve is concave and falls from slope 0 to slope −dof, so the first step may go
 * too far out, never too far in, and the rest come back steadily: no bracket is needed for any dof.
 */
function tailQuantile(share: number, dof: number): number {
  let t = -normalQuantile(share)
  for (let step = 0; step < 100; step++) {
    const tail = upperTail(t, dof)
    const move = (tail * Math.log(tail / share)) / (t * density(t, dof))
    t *= Math.exp(move)
    if (Math.abs(move) < 1e-13) break
  }
  return t
}
