import { describe, expect, test } from 'vitest'
import { roundToUncertainty } from '../../../src/core/statistics/round-to-uncertainty.ts'
import { studentQuantile } from '../../../src/core/statistics/student.ts'
import { effectiveDof } from '../../../src/core/statistics/welch-satterthwaite.ts'
import { gum } from '../../reference/gum.table.ts'
import { expectNear, expectRelative } from '../../reference/near.ts'

type Part = { u: number; dof: number | null }

/** Independent parts into what they make together. */
const together = (parts: readonly Part[]) => ({ uc: Math.hypot(...parts.map(({ u }) => u)), dof: effectiveDof(parts) })

describe('effective degrees of freedom', () => {
  test('of three relative uncertainties are those of GUM G.4.1', () => {
    const { inputs, expected, tolerance, recomputed } = gum['gum-ws-relative']
    const parts = inputs.relative_u_percent.map((u, i) => ({ u, dof: inputs.n[i]! - 1 }))
    const { uc, dof } = together(parts)
    expectNear(uc, expected.uc_percent, tolerance.uc_percent)
    expectNear(dof, expected.nu_eff, tolerance.nu_eff)
    expectNear(dof, recomputed.nu_eff, 5.1e-6)
    const t95 = studentQuantile(0.975, Math.floor(dof! + tolerance.nu_eff))
    expectNear(t95, recomputed.t95, 1e-10)
    expectNear(t95, expected.t95, tolerance.t95)
    expectNear(t95 * uc, expected.U95_percent, tolerance.U95_percent)
  })
  test('are unlimited without parts, without uncertainty and without a limited part', () => {
    expect(effectiveDof([])).toBeNull()
    expect(effectiveDof([{ u: 0, dof: 3 }])).toBeNull()
    expect(effectiveDof([{ u: 1, dof: null }])).toBeNull()
    expect(
      effectiveDof([
        { u: 0, dof: 3 },
        { u: 1, dof: null },
      ]),
    ).toBeNull()
  })
  test('are not touched by the sign of a part, nor by a part of no size with no degrees of freedom', () => {
    const parts = [
      { u: -2, dof: 6 },
      { u: 0, dof: 0 },
    ]
    expectRelative(effectiveDof(parts), 6, 1e-14)
  })
  test('of one limited part are its own, however small its number', () => {
    expectRelative(effectiveDof([{ u: 1e-120, dof: 4.5 }]), 4.5, 1e-14)
  })
})

describe('the end gauge', () => {
  const { inputs: raw, expected: rounded, tolerance: off } = gum['gum-H1-inputs']
  // Unrounded: the document works with these and prints the rounded ones.
  const u = {
    dbarNm: raw.s_pooled_nm / Math.sqrt(raw.n),
    d1Nm: raw.comparator_random_nm / studentQuantile(0.975, 5),
    d2Nm: raw.comparator_systematic_nm / raw.k,
    lSNm: raw.U_standard_nm / raw.k_standard,
    alphaS: raw.alpha_bound / Math.sqrt(3),
    dalpha: raw.dalpha_bound / Math.sqrt(3),
    dthetaC: raw.dtheta_bound_C / Math.sqrt(3),
  }
  test('has the inputs of GUM H.1.3', () => {
    expectNear(studentQuantile(0.975, 5), raw.t95_5, 0.005)
    expectNear(u.dbarNm, rounded.u_dbar_nm, off.nm)
    expectNear(u.d1Nm, rounded.u_d1_nm, off.nm)
    expectNear(u.d2Nm, rounded.u_d2_nm, off.nm)
    expectNear(u.lSNm, rounded.u_lS_nm, off.nm)
    expectNear(u.alphaS, rounded.u_alphaS, off.per_C)
    expectNear(u.dalpha, rounded.u_dalpha, off.per_C)
    expectNear(u.dthetaC, rounded.u_dtheta_C, off.C)
  })
  test('has the combined and expanded uncertainty of GUM H.1', () => {
    const { inputs, expected, tolerance } = gum['gum-H1']
    const difference = together([
      { u: u.dbarNm, dof: inputs.nu_dbar },
      { u: u.d1Nm, dof: inputs.nu_d1 },
      { u: u.d2Nm, dof: inputs.nu_d2 },
    ])
    expectNear(difference.uc, expected.u_d_nm, tolerance.u_d_nm)
    expectNear(difference.dof, expected.nu_d, tolerance.nu_d)
    const lengthNm = inputs.lS_mm * 1e6
    const parts = {
      lS: { u: u.lSNm, dof: inputs.nu_lS },
      d: { u: difference.uc, dof: difference.dof },
      // To first order these two have no effect.
      alphaS: { u: 0 * u.alphaS, dof: null },
      theta: { u: 0 * inputs.u_theta_C, dof: null },
      dalpha: { u: lengthNm * inputs.theta_C * u.dalpha, dof: inputs.nu_dalpha },
      dtheta: { u: lengthNm * inputs.alphaS_per_C * u.dthetaC, dof: inputs.nu_dtheta },
    }
    for (const [name, part] of Object.entries(parts)) {
      const printed = expected.contributions_nm[name as keyof typeof parts]
      expectNear(Math.abs(part.u), printed, tolerance.contributions_nm)
    }
    const { uc, dof } = together(Object.values(parts))
    expectNear(uc ** 2, expected.uc2_nm2, tolerance.uc2_nm2)
    expectNear(uc, expected.uc_nm, tolerance.uc_nm)
    expectNear(dof, expected.nu_eff_untruncated, tolerance.nu_eff_untruncated)
    expect(Math.floor(dof!)).toBe(expected.nu_eff)
    const t99 = studentQuantile(0.995, Math.floor(dof!))
    expectNear(t99, expected.t99, tolerance.t99)
    expectNear(t99 * uc, expected.U99_nm, tolerance.U99_nm)
    expectNear(inputs.lS_mm + inputs.d_mean_nm * 1e-6, expected.l_mm, tolerance.l_mm)
  })
})

describe('rounding to the uncertainty', () => {
  test('is that of GUM 7.2.6', () => {
    const { inputs, expected } = gum['gum-rounding']
    const [resistance, frequency, value] = inputs.cases.map(([, number]) => Number(number)) as [number, number, number]
    expect(Number(roundToUncertainty(0, resistance)?.uncertainty)).toBe(expected.reported[0])
    expect(Number(roundToUncertainty(0, frequency)?.uncertainty)).toBe(expected.reported[1])
    expect(roundToUncertainty(value, 0.027)).toEqual({ value: '10.058', uncertainty: '0.027' })
    expect(Number(roundToUncertainty(value, 0.027)?.value)).toBe(expected.reported[2])
  })
  test('reports the mass of GUM 7.2.2 and 7.2.4', () => {
    const { inputs, expected, tolerance } = gum['gum-report']
    const k = studentQuantile(0.975, inputs.nu)
    expectNear(k, inputs.k, tolerance.abs)
    expectNear(k * inputs.uc_mg, expected.U_mg, tolerance.abs)
    expect(roundToUncertainty(inputs.y_g, inputs.uc_mg / 1000)).toEqual({ value: '100.02147', uncertainty: '0.00035' })
    expect(roundToUncertainty(inputs.y_g, (inputs.k * inputs.uc_mg) / 1000)).toEqual({
      value: '100.02147',
      uncertainty: '0.00079',
    })
  })
  test.each([
    [61.2345, 1.84, '61.2', '1.9'],
    [61.2345, 0.11, '61.23', '0.11'],
    [61.2345, 0.0996, '61.23', '0.10'],
    [61.2341, 0.0994, '61.234', '0.099'],
    [61.2345, 99.6, '60', '100'],
    [1234.5, 120, '1230', '120'],
    [1234.5, 12, '1235', '12'],
    [-0.004, 0.12, '0.00', '0.12'],
    [-0.4, 12, '0', '12'],
    [-61.26, 1.5, '-61.3', '1.5'],
    [5, 0.000012, '5.000000', '0.000012'],
  ])('writes %d with %d as %s and %s', (value, uncertainty, valueText, uncertaintyText) => {
    expect(roundToUncertainty(value, uncertainty)).toEqual({ value: valueText, uncertainty: uncertaintyText })
  })
  test('never takes 1 % or more off an uncertainty, and never writes more than two figures', () => {
    for (let u = 0.00123; u < 5000; u *= 1.0137) {
      const text = roundToUncertainty(1, u)!.uncertainty
      expect(Number(text) / u).toBeGreaterThan(0.99)
      expect(Number(text) / u).toBeLessThan(1.1)
      expect(text.replace(/^0\.0*|\./g, '').replace(/(?<=..)0+$/, '').length).toBeLessThanOrEqual(2)
    }
  })
  test('is null for a number that is not finite or an uncertainty that is not above 0', () => {
    for (const [value, u] of [
      [Number.NaN, 1],
      [1, Number.NaN],
      [1, Infinity],
      [1, 0],
      [1, -1],
    ] as const)
      expect(roundToUncertainty(value, u)).toBeNull()
  })
})
