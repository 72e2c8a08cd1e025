import { expect, test } from 'vitest'
import { chiSquaredQuantile } from '../../../src/core/statistics/chi-squared.ts'
import { oneSidedToleranceFactor, twoSidedToleranceFactor } from '../../../src/core/statistics/tolerance-factor.ts'
import { expectNear, expectRelative } from '../../reference/near.ts'
import { nistHandbook } from '../../reference/nist-handbook.table.ts'

test('the two-sided factor is that of the e-Handbook, 7.2.6.3, by Howe', () => {
  const { inputs, expected, tolerance, recomputed } = nistHandbook['ehb-k2-howe']
  expectNear(twoSidedToleranceFactor(inputs.N, inputs.p, inputs.gamma), expected.k2, tolerance.abs)
  expectNear(chiSquaredQuantile(1 - inputs.gamma, inputs.N - 1), recomputed.chi2, 1e-10)
})
test('the two-sided factor is less than 0.5 % below the exact one (published exact factors)', () => {
  const { inputs, expected } = nistHandbook['tol-k2-exact']
  for (const [i, n] of inputs.n.entries()) {
    const share = twoSidedToleranceFactor(n, inputs.coverage[i]!, inputs.confidence[i]!) / expected.k2[i]!
    expect(share).toBeGreaterThan(0.995)
    expect(share).toBeLessThan(1)
  }
})
test('the one-sided factor is that of the e-Handbook, 7.2.6.3, by the noncentral t, also for six parts', () => {
  const { inputs, expected, tolerance, recomputed } = nistHandbook['ehb-k1-noncentral-t']
  for (const [i, n] of inputs.N.entries()) {
    const k = oneSidedToleranceFactor(n, inputs.p, inputs.gamma)
    expectNear(k, expected.k1[i]!, tolerance.k1)
    expectRelative(k, recomputed.k1[i]!, 1e-9)
  }
})
test('the one-sided factor is that of other published tables, one of them USEPA Example 17-3', () => {
  const { inputs, expected, tolerance } = nistHandbook['tol-k1']
  for (const [i, n] of inputs.n.entries())
    expectNear(oneSidedToleranceFactor(n, inputs.coverage[i]!, inputs.confidence[i]!), expected.k1[i]!, tolerance.abs)
})
test('the approximation of Natrella would be a fifth too great for six parts (e-Handbook, 7.2.6.3)', () => {
  const { inputs, expected } = nistHandbook['ehb-k1-natrella']
  const exact = oneSidedToleranceFactor(inputs.N[1]!, inputs.p, inputs.gamma)
  expectNear(expected.k1[1]! / exact, 1.2, 0.005)
})
test('the tolerance limits of the silicon wafers follow from the factor (e-Handbook, 7.2.6.3)', () => {
  const { inputs, expected, tolerance } = nistHandbook['ehb-tolerance-limits']
  const k2 = twoSidedToleranceFactor(inputs.N, 0.9, 0.99)
  expectNear(k2, inputs.k2, 0.000051)
  expectNear(inputs.mean - k2 * inputs.s, expected.two_sided[0]!, tolerance.abs)
  expectNear(inputs.mean + k2 * inputs.s, expected.two_sided[1]!, tolerance.abs)
})
test('two parts say little: the factors are huge, not endless', () => {
  // Exact by hand for n = 2 and a one-sided bound on the mean (coverage one half): t at 0.95 with 1 degree of freedom,
  // over √2.
  expectNear(oneSidedToleranceFactor(2, 0.5, 0.95), 6.313751514675043 / Math.SQRT2, 1e-8)
  expectRelative(
    twoSidedToleranceFactor(2, 0.95, 0.95),
    (1.959963984540054 * Math.sqrt(1.5)) / 0.06270677794321385,
    1e-9,
  )
})
