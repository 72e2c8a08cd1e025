// Several numbers into one: mean, median, sample standard deviation, and the mean of values of unequal uncertainty.
// simple-statistics agrees with the certified digits of the NIST reference data sets (means to 15 digits and more,
// standard deviations to 13, and 8 where storing the data costs the rest), so it is used here.
import { mean as meanOf, quickselect, sampleStandardDeviation, sum } from 'simple-statistics'
import { chiSquaredCdf } from './chi-squared.ts'

/** Arithmetic mean; null for none. */
export function mean(values: readonly number[]): number | null {
  return values.length > 0 ? meanOf([...values]) : null
}

/** Middle value, for an even number of them the mean of the middle two; null for none. */
export function median(values: readonly number[] | Float64Array): number | null {
  return medianOfOwn(new Float64Array(values))
}

/** The same of values that nobody needs in their order any more: whole sessions are gone through, and only the middle is put in order. */
export function medianOfOwn(values: Float64Array): number | null {
  if (values.length === 0) return null
  const own = values as unknown as number[]
  const last = own.length - 1
  const low = Math.floor(last / 2)
  quickselect(own, low, 0, last)
  if (last % 2 === 0) return own[low]!
  quickselect(own, low + 1, low + 1, last)
  return own[low]! + 0.5 * (own[low + 1]! - own[low]!)
}

/** Sample standard deviation (n − 1); null below two values. */
export function sampleSd(values: readonly number[]): number | null {
  return values.length > 1 ? sampleStandardDeviation([...values]) : null
}

export type Pooled = {
  value: number
  /** Standard uncertainty from the stated ones alone. */
  u: number
  /** √(χ²/(n − 1)): well above 1 where the values differ by more than they state; null for a single value. */
  birgeRatio: number | null
  /**
   * χ² of the values about their mean, with n − 1 degrees of freedom, and the probability of one at least as great;
   * null for one value.
   */
  chiSquared: number
  p: number | null
}

/**
 * Mean weighted by inverse variance, and how well the values agree; null for none, or where one has no u > 0.
 * Formula: R. T. Birge, Physical Review 40 (1932) 207, from memory.
 */
export function pool(values: readonly { value: number; u: number }[]): Pooled | null {
  if (values.length === 0 || !values.every(({ u }) => u > 0)) return null
  const weights = values.map(({ u }) => 1 / (u * u))
  const total = sum(weights)
  // About the first value: only differences are weighted, so a large common part costs no digits.
  const origin = values[0]!.value
  const value = origin + sum(values.map((each, index) => weights[index]! * (each.value - origin))) / total
  const chiSquared = sum(values.map((each) => ((each.value - value) / each.u) ** 2))
  const dof = values.length - 1
  return {
    value,
    u: 1 / Math.sqrt(total),
    birgeRatio: dof > 0 ? Math.sqrt(chiSquared / dof) : null,
    chiSquared,
    p: dof > 0 ? 1 - chiSquaredCdf(chiSquared, dof) : null,
  }
}
