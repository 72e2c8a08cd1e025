import { describe, expect, test } from 'vitest'
import { chiSquaredCdf, chiSquaredQuantile } from '../../../src/core/statistics/chi-squared.ts'
import { lnGamma } from '../../../src/core/statistics/gamma.ts'
import { incompleteBeta } from '../../../src/core/statistics/incomplete-beta.ts'
import { normalCdf, normalPdf, normalQuantile } from '../../../src/core/statistics/normal.ts'
import { studentCdf, studentQuantile } from '../../../src/core/statistics/student.ts'
import { conformity } from '../../reference/conformity.table.ts'
import * as exact from '../../reference/distributions.table.ts'
import { gum } from '../../reference/gum.table.ts'
import { expectNear, expectRelative } from '../../reference/near.ts'
import { nistHandbook } from '../../reference/nist-handbook.table.ts'

/** Two-sided factor of a percentage. */
const bothSides = (percent: number) => (1 + percent / 100) / 2

describe('the normal distribution', () => {
  test('agrees with 40-digit values, in the tails to 14 significant digits (mpmath)', () => {
    for (const [z, p] of exact.normalCdfTable) {
      expectNear(normalCdf(z), p, 2e-16)
      // At −37 the exponent alone, −684.5, is known to 14 digits less three.
      expectRelative(normalCdf(z), p, z < -20 ? 2e-13 : 1e-14)
    }
  })
  test('gives the quantile back to 14 digits from 1e-300 to 0.995 (mpmath)', () => {
    for (const [p, z] of exact.normalQuantileTable) expectRelative(normalQuantile(p), z, 1e-14)
  })
  test('has its ends, and answers nonsense with NaN', () => {
    expect([normalQuantile(0), normalQuantile(0.5), normalQuantile(1)]).toEqual([
      -Infinity,
      expect.closeTo(0, 15),
      Infinity,
    ])
    expect([normalCdf(-Infinity), normalCdf(0), normalCdf(Infinity)]).toEqual([0, 0.5, 1])
    for (const p of [-0.1, 1.1, Number.NaN]) expect(normalQuantile(p)).toBeNaN()
    expect(normalCdf(Number.NaN)).toBeNaN()
    expectNear(normalPdf(0) ** -2, 2 * Math.PI, 1e-14)
  })
  test('gives the coverage factors of GUM Table G.1', () => {
    const { inputs, expected, tolerance } = gum['gum-G1']
    for (const [i, percent] of inputs.p_percent.entries())
      expectNear(normalQuantile(bothSides(percent)), expected.k[i]!, tolerance.abs)
  })
  test('covers 91.673 % within √3 standard deviations (GUM G.5.2 note 2)', () => {
    const { inputs, expected, recomputed } = gum['gum-k-sqrt3']
    const percent = 100 * (1 - 2 * normalCdf(-inputs.k))
    // Printed cut off, not rounded.
    expect(Math.floor(percent * 1000) / 1000).toBe(expected.p_percent)
    expectNear(percent, recomputed.p_percent, 1e-12)
  })
  test('covers 68.3, 95.5 and 99.7 % within 1, 2 and 3 (JCGM 106 A.3.1)', () => {
    const { inputs, expected, tolerance, recomputed } = conformity['j106-coverage']
    for (const [i, k] of inputs.k.entries()) {
      expectNear(1 - 2 * normalCdf(-k), expected.P[i]!, tolerance.abs)
      expectNear(1 - 2 * normalCdf(-k), recomputed.P[i]!, 1e-15)
    }
  })
  test('gives the one-sided z of JCGM 106 Table 1', () => {
    const { inputs, expected, tolerance } = conformity['j106-table1']
    for (const [i, p] of inputs.pc.entries()) expectNear(normalQuantile(p), expected.z[i]!, tolerance.abs)
  })
  test('turns certificates and fifty-fifty bounds into standard uncertainties (GUM 4.3.3 to 4.3.5)', () => {
    const nines = gum['gum-cert-99']
    expectNear(
      nines.inputs.U_uOhm / normalQuantile(bothSides(nines.inputs.level_percent)),
      nines.expected.u_uOhm,
      nines.tolerance.abs,
    )
    const fifty = gum['gum-fifty-fifty']
    const u = fifty.inputs.a_mm / normalQuantile(0.75)
    expectNear(u, fifty.expected.u_mm, fifty.tolerance.u_mm)
    expectNear(u * u, fifty.expected.u2_mm2, fifty.tolerance.u2_mm2)
  })
})

describe('Student’s t', () => {
  test('agrees with 40-digit tails to 10 significant digits for 0.3 to 1e8 degrees of freedom (mpmath)', () => {
    for (const [t, dof, tail] of exact.studentTailTable) {
      expectRelative(studentCdf(-t, dof), tail, 1e-10)
      expectNear(studentCdf(t, dof), 1 - tail, 1e-13)
    }
  })
  test('gives the quantile back to 10 digits (mpmath)', () => {
    for (const [p, dof, t] of exact.studentQuantileTable) {
      expectRelative(studentQuantile(p, dof), t, 1e-12)
      expectRelative(studentQuantile(1 - p, dof), -t, 1e-12)
    }
  })
  test('becomes the normal distribution for unlimited degrees of freedom', () => {
    expect(studentCdf(-1.5, Infinity)).toBe(normalCdf(-1.5))
    expect(studentQuantile(0.975, Infinity)).toBe(normalQuantile(0.975))
    expectRelative(studentQuantile(0.975, 1e14), normalQuantile(0.975), 1e-13)
  })
  test('has its ends, and answers nonsense with NaN', () => {
    expect([studentCdf(-Infinity, 3), studentCdf(0, 3), studentCdf(Infinity, 3)]).toEqual([0, 0.5, 1])
    expect([studentQuantile(0, 3), studentQuantile(0.5, 3), studentQuantile(1, 3)]).toEqual([-Infinity, 0, Infinity])
    for (const [p, dof] of [
      [1.1, 3],
      [-0.1, 3],
      [Number.NaN, 3],
      [0.9, 0],
      [0.9, -1],
      [0.9, Number.NaN],
    ] as const)
      expect(studentQuantile(p, dof)).toBeNaN()
    expect(studentCdf(1, 0)).toBeNaN()
    expect(studentCdf(Number.NaN, 3)).toBeNaN()
  })
  test('fills GUM Table G.2', () => {
    const { inputs, expected, tolerance } = gum['gum-G2']
    for (const [row, nu] of inputs.nu.entries())
      for (const [column, percent] of inputs.p_percent.entries()) {
        // 99.73 stands for three standard deviations; the difference shows for nu = 1 only.
        const p = percent === 99.73 ? normalCdf(3) : bothSides(percent)
        // A misprint of the document: 1.70 where the exact value is 1.6896.
        const printed = nu === 35 && percent === 90 ? 1.69 : expected.t[row]![column]!
        const off = nu === 100 ? tolerance.abs_nu_100_and_infinity : tolerance.abs
        expectNear(studentQuantile(p, nu), printed, off)
      }
    for (const [column, percent] of inputs.p_percent.entries())
      expectNear(
        studentQuantile(bothSides(percent), Infinity),
        expected.t_infinity[column]!,
        tolerance.abs_nu_100_and_infinity,
      )
  })
})

describe('chi-squared, beta and gamma', () => {
  test('chi-squared agrees with 40-digit values (mpmath), and its quantile gives them back', () => {
    for (const [x, dof, p] of exact.chiSquaredCdfTable) {
      expectNear(chiSquaredCdf(x, dof), p, 1e-12)
      if (p > 1e-9 && p < 1 - 1e-9) expectRelative(chiSquaredQuantile(p, dof), x, 1e-7)
    }
    expect([chiSquaredCdf(-1, 3), chiSquaredCdf(0, 3)]).toEqual([0, 0])
    for (const x of [200, 1e4, 1e12, Infinity]) expect(chiSquaredCdf(x, 3)).toBe(1)
    expect(chiSquaredCdf(Number.NaN, 3)).toBeNaN()
  })
  test('the incomplete beta function agrees with 40-digit values (mpmath)', () => {
    for (const [x, a, b, value] of exact.incompleteBetaTable)
      expectRelative(incompleteBeta(x, 1 - x, a, b), value, 1e-12)
    expect([incompleteBeta(0, 1, 2, 3), incompleteBeta(1, 0, 2, 3)]).toEqual([0, 1])
  })
  /** Mean of the sample standard deviation of n values, in true ones. */
  const c4 = (n: number) => Math.sqrt(2 / (n - 1)) * Math.exp(lnGamma(n / 2) - lnGamma((n - 1) / 2))
  test('gamma gives the bias of the sample standard deviation (e-Handbook 6.3.2)', () => {
    const { inputs, expected, tolerance } = nistHandbook['spc-c4']
    for (const [i, n] of inputs.n.entries()) expectNear(c4(n), expected.c4[i]!, tolerance.abs)
  })
  test('gamma gives the relative uncertainty of a standard deviation (GUM Table E.1)', () => {
    const { inputs, expected, tolerance, recomputed } = gum['gum-E1']
    for (const [i, n] of inputs.n.entries()) {
      const percent = 100 * Math.sqrt(1 / c4(n) ** 2 - 1)
      expectNear(percent, expected.percent[i]!, tolerance.abs)
      expectNear(percent, recomputed.percent[i]!, 0.00051)
    }
  })
})
