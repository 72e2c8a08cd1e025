import { describe, expect, test } from 'vitest'
import { type Correlation, combine } from '../../../src/core/statistics/combine.ts'
import { arcsineDivisor, rectangularDivisor, trapezoidDivisor } from '../../../src/core/statistics/divisor.ts'
import { mean, sampleSd } from '../../../src/core/statistics/mean.ts'
import { roundToUncertainty } from '../../../src/core/statistics/round-to-uncertainty.ts'
import { studentQuantile } from '../../../src/core/statistics/student.ts'
import { effectiveDof } from '../../../src/core/statistics/welch-satterthwaite.ts'
import { gum } from '../../reference/gum.table.ts'
import { expectNear, expectRelative } from '../../reference/near.ts'

describe('bounded distributions', () => {
  test('have the divisors of GUM 4.3.9, 4.4.5, 4.4.6 and H.1.3.4', () => {
    const [rectangle, triangle] = [gum['gum-rectangular'], gum['gum-triangular']]
    expectNear(rectangle.inputs.half_width / rectangularDivisor, rectangle.expected.u, rectangle.tolerance.abs)
    expectNear(triangle.inputs.half_width / trapezoidDivisor(0), triangle.expected.u, triangle.tolerance.abs)
    const { inputs, expected, tolerance } = gum['gum-trapezoid']
    for (const [i, beta] of inputs.beta.entries())
      expectNear((inputs.a / trapezoidDivisor(beta)) ** 2, expected.u2[i]!, tolerance.abs)
    const arcsine = gum['gum-arcsine']
    expectNear(arcsine.inputs.amplitude / arcsineDivisor, arcsine.expected.u, arcsine.tolerance.abs)
  })
  test('give 0.29 of a digit or a hysteresis, and the expansion of copper (GUM F.2.2.1, F.2.2.2, 4.3.8)', () => {
    const [digit, hysteresis, copper] = [gum['gum-resolution'], gum['gum-hysteresis'], gum['gum-asymmetric']]
    expectNear(digit.inputs.resolution / 2 / rectangularDivisor, digit.expected.u, digit.tolerance.abs)
    expectNear(
      hysteresis.inputs.hysteresis_range / 2 / rectangularDivisor,
      hysteresis.expected.u,
      hysteresis.tolerance.abs,
    )
    const width = copper.inputs.b_minus + copper.inputs.b_plus
    expectNear(width / 2 / rectangularDivisor, copper.expected.u, copper.tolerance.abs)
  })
  test('are covered as the note to GUM Table G.1 says', () => {
    const { inputs, expected, tolerance } = gum['gum-G1-rectangular']
    for (const [i, k] of inputs.k.entries())
      expectNear((100 * k) / rectangularDivisor, expected.p_percent[i]!, tolerance.abs)
  })
})

describe('effective degrees of freedom', () => {
  test('of three relative uncertainties are those of GUM G.4.1', () => {
    const { inputs, expected, tolerance, recomputed } = gum['gum-ws-relative']
    const parts = inputs.relative_u_percent.map((u, i) => ({ u, sensitivity: 1, dof: inputs.n[i]! - 1 }))
    const { uc, dof } = combine(parts)
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

describe('combined uncertainty', () => {
  test('of a voltmeter reading takes the bounds of its specification as a rectangle (GUM 4.3.7, 5.1.5)', () => {
    const { inputs, expected, tolerance } = gum['gum-dvm-spec']
    const boundUv = inputs.spec_ppm_reading * inputs.reading_V + inputs.spec_ppm_range * inputs.range_V
    const spec = boundUv / rectangularDivisor
    const { uc } = combine([
      { u: spec, sensitivity: 1, dof: null },
      { u: inputs.u_typeA_uV, sensitivity: 1, dof: null },
    ])
    expectNear(boundUv, expected.a_uV, tolerance.a_uV)
    expectNear(spec, expected.u_spec_uV, tolerance.u_spec_uV)
    expectNear((uc * 1e-6) ** 2, expected.uc2_V2, tolerance.uc2_V2)
    expectNear(uc, expected.uc_uV, tolerance.uc_uV)
    expectNear((uc * 1e-6) / inputs.reading_V, expected.relative, tolerance.relative)
  })
  test('of ten resistors set against one standard adds up straight, not by squares (GUM 5.2.2)', () => {
    const { inputs, expected, tolerance } = gum['gum-correlated-resistors']
    const resistors = Array.from({ length: inputs.n }, () => ({
      u: inputs.u_each_mOhm / 1000,
      sensitivity: 1,
      dof: null,
    }))
    const pairs = resistors.flatMap((_, j) => resistors.slice(0, j).map((_, i) => [i, j] as const))
    for (const [i, r] of inputs.correlation.entries())
      expectNear(
        combine(
          resistors,
          pairs.map((between) => ({ between, r })),
        ).uc,
        expected.uc_Ohm[i]!,
        tolerance.abs,
      )
  })

  describe('of the end gauge', () => {
    const { inputs: raw, expected: rounded, tolerance: off } = gum['gum-H1-inputs']
    // Unrounded: the document works with these and prints the rounded ones.
    const u = {
      dbarNm: raw.s_pooled_nm / Math.sqrt(raw.n),
      d1Nm: raw.comparator_random_nm / studentQuantile(0.975, 5),
      d2Nm: raw.comparator_systematic_nm / raw.k,
      lSNm: raw.U_standard_nm / raw.k_standard,
      alphaS: raw.alpha_bound / rectangularDivisor,
      dalpha: raw.dalpha_bound / rectangularDivisor,
      dthetaC: raw.dtheta_bound_C / rectangularDivisor,
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
      const difference = combine([
        { u: u.dbarNm, sensitivity: 1, dof: inputs.nu_dbar },
        { u: u.d1Nm, sensitivity: 1, dof: inputs.nu_d1 },
        { u: u.d2Nm, sensitivity: 1, dof: inputs.nu_d2 },
      ])
      expectNear(difference.uc, expected.u_d_nm, tolerance.u_d_nm)
      expectNear(difference.dof, expected.nu_d, tolerance.nu_d)
      const lengthNm = inputs.lS_mm * 1e6
      const parts = {
        lS: { u: u.lSNm, sensitivity: 1, dof: inputs.nu_lS },
        d: { u: difference.uc, sensitivity: 1, dof: difference.dof },
        alphaS: { u: u.alphaS, sensitivity: 0, dof: null },
        theta: { u: inputs.u_theta_C, sensitivity: 0, dof: null },
        dalpha: { u: u.dalpha, sensitivity: -lengthNm * inputs.theta_C, dof: inputs.nu_dalpha },
        dtheta: { u: u.dthetaC, sensitivity: -lengthNm * inputs.alphaS_per_C, dof: inputs.nu_dtheta },
      }
      for (const [name, part] of Object.entries(parts)) {
        const printed = expected.contributions_nm[name as keyof typeof parts]
        expectNear(Math.abs(part.sensitivity * part.u), printed, tolerance.contributions_nm)
      }
      const { uc, dof } = combine(Object.values(parts))
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

  describe('of resistance, reactance and impedance (GUM H.2)', () => {
    const { inputs, expected, tolerance } = gum['gum-H2']
    const series = [inputs.V_V, inputs.I_mA.map((i) => i / 1000), inputs.phi_rad]
    const n = series[0]!.length
    const means = series.map((values) => mean(values)!)
    const us = series.map((values) => sampleSd(values)! / Math.sqrt(n))
    const correlation = (a: number, b: number) => {
      const [da, db] = [a, b].map((s) => series[s]!.map((v) => v - means[s]!)) as [number[], number[]]
      return da.reduce((sum, d, i) => sum + d * db[i]!, 0) / (n * (n - 1)) / (us[a]! * us[b]!)
    }
    const between = [
      [0, 1],
      [0, 2],
      [1, 2],
    ] as const
    const correlations: Correlation[] = between.map((pair) => ({ between: pair, r: correlation(pair[0], pair[1]) }))
    const [v, i, phi] = means as [number, number, number]
    const outputs = [
      {
        value: (v / i) * Math.cos(phi),
        by: [Math.cos(phi) / i, (-v * Math.cos(phi)) / i ** 2, (-v * Math.sin(phi)) / i],
      },
      {
        value: (v / i) * Math.sin(phi),
        by: [Math.sin(phi) / i, (-v * Math.sin(phi)) / i ** 2, (v * Math.cos(phi)) / i],
      },
      { value: v / i, by: [1 / i, -v / i ** 2, 0] },
    ]
    const partsOf = (by: readonly number[]) => us.map((u, k) => ({ u, sensitivity: by[k]!, dof: n - 1 }))

    test('has the means, uncertainties and correlations of Table H.2', () => {
      const printedU = [...expected.u_mean]
      expectNear(means[0], expected.mean[0]!, 0.0005)
      expectNear(means[1]! * 1000, expected.mean[1]!, 0.0005)
      expectNear(means[2], expected.mean[2]!, 0.000005)
      expectNear(us[0], printedU[0]!, 0.00005)
      expectNear(us[1]! * 1000, printedU[1]!, 0.00005)
      expectNear(us[2], printedU[2]!, 0.000005)
      for (const [k, r] of [expected.r_VI, expected.r_Vphi, expected.r_Iphi].entries())
        expectNear(correlations[k]!.r, r, tolerance.r)
    })
    test('has the values and uncertainties of Table H.3, with 4 degrees of freedom', () => {
      for (const [k, output] of outputs.entries()) {
        const { uc, dof } = combine(partsOf(output.by), correlations)
        expectNear(output.value, expected.R_X_Z_Ohm[k]!, tolerance.Ohm)
        expectNear(uc, expected.u_R_X_Z_Ohm[k]!, tolerance.Ohm)
        // All three come from the same five sets.
        expect(dof).toBe(4)
      }
    })
    test('has the correlations of the outputs of Table H.3', () => {
      // u²(a + b) = u²(a) + u²(b) + 2 r u(a) u(b), so combine also gives r.
      const u = (by: readonly number[]) => combine(partsOf(by), correlations).uc
      for (const [k, r] of [expected.r_RX, expected.r_RZ, expected.r_XZ].entries()) {
        const [a, b] = between[k]!.map((s) => outputs[s]!.by) as [number[], number[]]
        const both = u(a.map((c, s) => c + b[s]!))
        expectNear((both ** 2 - u(a) ** 2 - u(b) ** 2) / (2 * u(a) * u(b)), r, 0.0005)
      }
    })
    test('would be wrong in the way of Table H.5 if the correlations were left out', () => {
      for (const [k, output] of outputs.entries())
        expectNear(combine(partsOf(output.by)).uc, expected.uncorrelated_u_R_X_Z_Ohm[k]!, tolerance.Ohm)
    })
  })

  test('counts correlated inputs as one part with the least degrees of freedom among them', () => {
    const inputs = [
      { u: 1, sensitivity: 1, dof: 4 },
      { u: 1, sensitivity: 1, dof: 10 },
      { u: 2, sensitivity: 1, dof: null },
    ]
    // Straight sum 2 with 4 degrees of freedom, beside 2 with unlimited: 8² / (2⁴/4).
    expect(combine(inputs, [{ between: [0, 1], r: 1 }])).toEqual({
      uc: expect.closeTo(Math.sqrt(8), 14),
      dof: expect.closeTo(16, 12),
    })
    expect(combine(inputs.slice(0, 2), [{ between: [1, 0], r: -1 }])).toEqual({ uc: 0, dof: null })
    expect(combine([])).toEqual({ uc: 0, dof: null })
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
