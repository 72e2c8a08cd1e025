import { describe, expect, test } from 'vitest'
import { mean, median, pool, sampleSd } from '../../../src/core/statistics/mean.ts'
import { studentQuantile } from '../../../src/core/statistics/student.ts'
import { gum } from '../../reference/gum.table.ts'
import { expectDigits, expectNear, expectRelative } from '../../reference/near.ts'
import { nistHandbook } from '../../reference/nist-handbook.table.ts'
import { nistStrd } from '../../reference/nist-strd.table.ts'

const rootMeanSquare = (values: readonly number[]) =>
  Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length)

describe('mean and sample standard deviation', () => {
  test.each(['strd-michelso', 'strd-mavro', 'strd-lew'] as const)('have the certified digits of NIST StRD %s', (id) => {
    const { inputs, expected, tolerance } = nistStrd[id]
    expectDigits(mean(inputs.y), expected.mean, tolerance.log_relative_error)
    expectDigits(sampleSd(inputs.y), expected.s, tolerance.log_relative_error)
  })
  test('are exact for three neighbours of ten million (NIST StRD NumAcc1)', () => {
    const { inputs, expected } = nistStrd['strd-numacc1']
    expect([mean(inputs.y), sampleSd(inputs.y)]).toEqual([expected.mean, expected.s])
  })
  test.each([
    ['strd-numacc2', 1],
    ['strd-numacc3', 1_000_000],
    ['strd-numacc4', 10_000_000],
  ] as const)('have the certified digits of NIST StRD %s, whose offset is %i', (id, offset) => {
    const { inputs, expected, tolerance } = nistStrd[id]
    // Written as decimals: the sum offset + 0.1 would be rounded twice.
    const values = Array.from({ length: inputs.n }, (_, i) => Number(`${offset}.${i === 0 ? 2 : i % 2 === 1 ? 1 : 3}`))
    expectDigits(mean(values), expected.mean, tolerance.log_relative_error)
    expectDigits(sampleSd(values), expected.s, tolerance.log_relative_error)
  })
  test('of 20 temperatures are those of GUM 4.4.3', () => {
    const { inputs, expected, tolerance, recomputed } = gum['gum-type-a-20']
    const s = sampleSd(inputs.observations_C)!
    expectNear(mean(inputs.observations_C), expected.mean, tolerance.abs)
    expectNear(s, expected.s, tolerance.abs)
    expectNear(s / Math.sqrt(20), expected.u_mean, tolerance.abs)
    expectRelative(s, recomputed.s, 1e-12)
  })
  test('of five readings of voltage, current and phase are those of GUM Table H.2', () => {
    const { inputs, expected } = gum['gum-H2']
    for (const [k, values] of [inputs.V_V, inputs.I_mA, inputs.phi_rad].entries()) {
      const halfDigit = k === 2 ? 0.000005 : 0.0005
      expectNear(mean(values), expected.mean[k]!, halfDigit)
      expectNear(sampleSd(values)! / Math.sqrt(values.length), expected.u_mean[k]!, k === 2 ? 0.000005 : 0.00005)
    }
  })
  test('of ten days of five readings are those of GUM H.5', () => {
    const { inputs, expected, tolerance } = gum['gum-H5']
    const days = sampleSd(inputs.daily_mean_V)! * 1e6
    const within = rootMeanSquare(inputs.daily_s_uV)
    const between = Math.sqrt(days ** 2 - within ** 2 / inputs.K)
    expectNear(mean(inputs.daily_mean_V), expected.grand_mean_V, 5e-7)
    expectNear(days, expected.s_daily_means_uV, tolerance.uV)
    expectNear(within, expected.s_b_uV, tolerance.uV)
    expectNear(between, expected.s_B_uV, tolerance.uV)
    expectNear(days / Math.sqrt(inputs.J), expected.s_mean_with_day_effect_uV, tolerance.uV)
    expectNear((inputs.K * days ** 2) / within ** 2, expected.F, tolerance.F)
  })
  test('of a check standard are those of the e-Handbook data of 2.6.2', () => {
    const { inputs, expected, tolerance, recomputed } = nistHandbook['ehb-check-standard']
    const [centre, s] = [mean(inputs.check_values_ohm_cm)!, sampleSd(inputs.check_values_ohm_cm)!]
    const t = studentQuantile(1 - inputs.alpha / 2, inputs.check_values_ohm_cm.length - 1)
    expectNear(centre, expected.mean, tolerance.abs)
    expectNear(s, expected.level2_s, tolerance.abs)
    expectNear(rootMeanSquare(inputs.short_term_s), expected.level1_pooled_s, tolerance.abs)
    expectRelative(t, recomputed['t_0.975_24'], 1e-12)
    expectNear(centre - t * s, expected.t_limits[0]!, tolerance.abs)
    expectNear(centre + t * s, expected.t_limits[1]!, tolerance.abs)
  })
  test('are null where there is too little', () => {
    expect([mean([]), median([]), sampleSd([]), sampleSd([1])]).toEqual([null, null, null, null])
  })
})

test('the median is the middle value, or the mean of the middle two, and leaves its input as it was', () => {
  const values = [3, 1, 2, 10]
  expect([median(values), median([3, 1, 10])]).toEqual([2.5, 3])
  expect(values).toEqual([3, 1, 2, 10])
})

describe('pooling by inverse variance', () => {
  test('weighs three to one where one value is √3 times as certain', () => {
    const pooled = pool([
      { value: 1e9 + 1, u: 1 },
      { value: 1e9 + 5, u: Math.sqrt(3) },
    ])!
    expectNear(pooled.value, 1e9 + 2, 1e-6)
    expectNear(pooled.u, Math.sqrt(3 / 4), 1e-15)
    // 1² + (3/√3)² with one degree of freedom: two standard deviations, 4.55 %.
    expectNear(pooled.chiSquared, 4, 1e-12)
    expectNear(pooled.birgeRatio, 2, 1e-12)
    expectNear(pooled.p, 0.0455002638963584, 1e-12)
  })
  test('gives back a single value, which can disagree with nothing', () => {
    expect(pool([{ value: 5, u: 2 }])).toEqual({ value: 5, u: 2, birgeRatio: null, chiSquared: 0, p: null })
  })
  test('is null without values, and where one is said to be certain or of unknown uncertainty', () => {
    expect(pool([])).toBeNull()
    for (const u of [0, -1, Number.NaN])
      expect(
        pool([
          { value: 1, u: 1 },
          { value: 2, u },
        ]),
      ).toBeNull()
  })
})
