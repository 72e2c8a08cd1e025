import { describe, expect, test } from 'vitest'
import { conformanceProbability, guardBandsOf, outcome } from '../../../src/core/decision/acceptance.ts'
import { normalPdf, normalQuantile } from '../../../src/core/statistics/normal.ts'
import { studentQuantile } from '../../../src/core/statistics/student.ts'
import { conformity } from '../../reference/conformity.table.ts'
import { integrate } from '../../reference/integrate.ts'
import { expectNear, expectRelative } from '../../reference/near.ts'

describe('the probability that a value conforms', () => {
  test('to an upper limit is that of JCGM 106, 7.3.3 example 1', () => {
    const { inputs, expected, tolerance, recomputed } = conformity['j106-upper']
    expectNear(conformanceProbability(inputs.y, inputs.u, null, inputs.TU, null), expected.pc, tolerance.abs)
    expectRelative(conformanceProbability(inputs.y, inputs.u, null, inputs.TU, null), recomputed.pc, 1e-13)
  })
  test('to a lower limit is that of JCGM 106, 7.3.3 example 2', () => {
    const { inputs, expected, tolerance, recomputed } = conformity['j106-lower']
    expectNear(conformanceProbability(inputs.y, inputs.u, inputs.TL, null, null), expected.pc, tolerance.pc)
    expectRelative(conformanceProbability(inputs.y, inputs.u, inputs.TL, null, null), recomputed.pc, 1e-13)
  })
  test('to two limits is that of JCGM 106, 7.4', () => {
    const { inputs, expected, tolerance, recomputed } = conformity['j106-two-sided']
    expectNear(conformanceProbability(inputs.y, inputs.u, inputs.TL, inputs.TU, null), expected.pc, tolerance.abs)
    expectRelative(conformanceProbability(inputs.y, inputs.u, inputs.TL, inputs.TU, null), recomputed.pc, 1e-13)
  })
  test('is 95 % only in the middle tenth where the capability index is 1 (JCGM 106, 7.7.5)', () => {
    const { inputs, expected, tolerance, recomputed } = conformity['j106-Cm1-zone']
    const pc = (y: number) => conformanceProbability(y, 1 / (4 * inputs.Cm), 0, 1, null)!
    expectNear(pc(0.5), recomputed.pc_at_centre, 1e-10)
    expectNear(pc(recomputed.y_low), inputs.pc_min, 1e-8)
    expectNear(recomputed.y_low, expected.y_low, tolerance.abs)
    expectNear(pc(1 - recomputed.y_low), inputs.pc_min, 1e-8)
    expectNear(1 - recomputed.y_low, expected.y_high, tolerance.abs)
  })
  test('is one half at a single limit, and by Student’s t nearer to one half than by the normal distribution', () => {
    expect(conformanceProbability(10, 1, 10, null, 3)).toBe(0.5)
    const [t, normal] = [3, null].map((dof) => conformanceProbability(12, 1, 10, null, dof)!) as [number, number]
    expect(t).toBeLessThan(normal)
    // One sided 5 % at t = 2.3534 with 3 degrees of freedom (GUM Table G.2, 90 %).
    expectNear(conformanceProbability(10 + studentQuantile(0.95, 3), 1, 10, null, 3), 0.95, 1e-14)
  })
  test('is certain without limits, and null where value or uncertainty is no number', () => {
    expect(conformanceProbability(10, 1, null, null, null)).toBe(1)
    for (const [y, u] of [
      [Number.NaN, 1],
      [1, 0],
      [1, -1],
      [1, Number.NaN],
      [Infinity, 1],
    ] as const)
      expect(conformanceProbability(y, u, 0, 2, null)).toBeNull()
  })
})

describe('the guarded decision', () => {
  test('passes within, fails beyond, and is undecided between the guards', () => {
    const decide = (y: number) => outcome(y, 2, 50, 70, 1, 0.5)
    expect([51.9, 52, 60, 69, 69.1].map(decide)).toEqual(['undecided', 'pass', 'pass', 'pass', 'undecided'])
    expect([47.9, 48, 71, 71.1].map(decide)).toEqual(['fail', 'undecided', 'undecided', 'fail'])
  })
  test('passes only where what an allowance leaves open passes too, and fails only where neither end may', () => {
    const decide = (y: number) => outcome(y, 2, 50, 70, 1, 1, { lowPa: 3, highPa: 1 })
    expect([54.9, 55, 67, 67.1].map(decide)).toEqual(['undecided', 'pass', 'pass', 'undecided'])
    expect([46.9, 47, 75, 75.1].map(decide)).toEqual(['fail', 'undecided', 'undecided', 'fail'])
  })
  test('without guards decides every value by the plain limits (ILAC-G8, 4.2.1)', () => {
    const w = conformity['ilac-g8-definitions'].expected.simple_w
    expect([49.9, 50, 70, 70.1].map((y) => outcome(y, 2, 50, 70, w, w))).toEqual(['fail', 'pass', 'pass', 'fail'])
  })
  test('has no guard on a side without a limit', () => {
    expect([
      outcome(-1e9, 2, null, 70, 1, 1),
      outcome(1e9, 2, 50, null, 1, 1),
      outcome(1e9, 2, null, null, 1, 1),
    ]).toEqual(['pass', 'pass', 'pass'])
  })
  test('can pass nothing where the guards eat up the limits', () => {
    for (let y = 45; y <= 75; y += 0.5) expect(outcome(y, 12, 50, 70, 1, 1)).not.toBe('pass')
  })
  test('is undecided where value or uncertainty is no number', () => {
    for (const [y, U] of [
      [Number.NaN, 1],
      [60, Number.NaN],
      [60, Infinity],
      [Infinity, 1],
    ] as const)
      for (const limits of [
        [50, 70],
        [null, null],
      ] as const)
        for (const guard of [0, 1]) expect(outcome(y, U, limits[0], limits[1], guard, guard)).toBe('undecided')
  })
  test('fails a value only beyond T + t·s, and is undecided up to there (JCGM 106, 8.3.3.2 example 2)', () => {
    const { inputs, expected, tolerance, recomputed } = conformity['j106-nandrolone']
    const t = studentQuantile(inputs.p_one_sided, inputs.nu)
    expectNear(t, expected.t, tolerance.abs)
    expectRelative(t, recomputed.t, 1e-12)
    expectNear(t * inputs.s, expected.g, tolerance.abs)
    expectNear(inputs.T + t * inputs.s, expected.A, tolerance.abs)
    const decide = (y: number) => outcome(y, t * inputs.s, null, inputs.T, 1, 1)
    expect([decide(expected.A - 0.01), decide(expected.A + 0.01)]).toEqual(['undecided', 'fail'])
  })
  test('rejects a speed only from 107 km/h at a limit of 100 (JCGM 106, 8.3.3.2 example 1)', () => {
    const { inputs, expected, tolerance, recomputed } = conformity['j106-speed']
    const limit = inputs.v0 / (1 - normalQuantile(inputs.p) * inputs.relative_u)
    // The document goes on with z rounded to 3.09.
    expectNear(normalQuantile(inputs.p), inputs.z, 0.005)
    expectNear(limit, expected.v_max, tolerance.abs)
    expectNear(inputs.v0 / (1 - inputs.z * inputs.relative_u), recomputed.v_max, 1e-8)
    const decide = (v: number) => outcome(v, normalQuantile(inputs.p) * inputs.relative_u * v, null, inputs.v0, 1, 1)
    expect([decide(limit - 0.01), decide(limit + 0.01)]).toEqual(['undecided', 'fail'])
  })
})

describe('the guards', () => {
  const rig = (rule: 'guarded' | 'simple' | 'risk', guardFactor: number, risk = 0.025) => ({ rule, guardFactor, risk })
  test('follow the rig’s factor on the harmless side and are never below U on the dangerous one', () => {
    expect(guardBandsOf('draft-proving', 'make', rig('guarded', 0.5))).toEqual({ low: 1, high: 0.5 })
    expect(guardBandsOf('draft-proving', 'break', rig('guarded', 1.5))).toEqual({ low: 1.5, high: 1.5 })
    expect(guardBandsOf('blockage', 'make', rig('guarded', 0.5))).toEqual({ low: 0.5, high: 1 })
    expect(guardBandsOf('blockage', 'break', rig('simple', 3))).toEqual({ low: 0, high: 1 })
    expect(guardBandsOf('draft-proving', 'differential', rig('simple', 3))).toEqual({ low: 1, high: 1 })
  })

  test('of a stated risk let a part exactly at a limit pass just that often, and never more on the dangerous side', () => {
    for (const risk of [0.001, 0.025, 0.1]) {
      const { low, high } = guardBandsOf('draft-proving', 'make', rig('risk', 1, risk))
      // JCGM 106:2012, 8.3.2: the worst value that passes stands on the guard; U = z(0.975)·u for unlimited degrees of freedom.
      const U = normalQuantile(0.975)
      expectNear(1 - conformanceProbability(-high * U, 1, null, 0, null)!, risk, 1e-12)
      const lowRisk = 1 - conformanceProbability(low * U, 1, 0, null, null)!
      expect(lowRisk).toBeLessThanOrEqual(0.025 + 1e-12)
    }
  })
})

describe('risks', () => {
  test('of a guard of U = 2u is at most 2.3 % (JCGM 106, 8.3.2.3)', () => {
    const { expected, tolerance, recomputed } = conformity['j106-guard-w-U']
    // The worst value that passes: right on the guard.
    const [u, y] = [0.5, 10 + 1]
    expect(outcome(y, 2 * u, 10, null, 1, 1)).toBe('pass')
    const risk = 1 - conformanceProbability(y, u, 10, null, null)!
    expectNear(risk, expected.max_specific_consumer_risk, tolerance.abs)
    expectNear(risk, recomputed.risk, 1e-15)
  })
  test('of the rules of ILAC-G8 Table 1 stay below the printed bounds', () => {
    const { inputs, expected, recomputed } = conformity['ilac-g8-table1']
    for (const [i, r] of inputs.w_over_U.entries()) {
      const risk = 1 - conformanceProbability(2 * r, 1, 0, null, null)!
      expectNear(risk, recomputed.PFA_at_limit_normal_k2[i]!, 1e-15)
      expect(risk).toBeLessThan(expected.PFA_max[i]!)
    }
  })
  test('of rejecting beyond TL − U is below 2.5 % (ILAC-G8 Table 1, from memory)', () => {
    const { recomputed } = conformity['ilac-g8-table1-rest']
    expectNear(conformanceProbability(10 - 2, 1, 10, null, null), recomputed.PFR_at_TL_plus_U, 1e-15)
  })
  /**
   * Shares of all items: bad yet passed, good yet not passed; items as `density`, measured with standard uncertainty
   * `um`.
   */
  function risks(
    density: (x: number) => number,
    um: number,
    limits: [number, number],
    passed: [number, number],
    over: [number, number],
  ) {
    const accepted = (x: number) => conformanceProbability(x, um, passed[0], passed[1], null)!
    const [from, to] = over
    const bad = (x: number) => density(x) * accepted(x)
    return {
      consumer: integrate(bad, from, limits[0]) + integrate(bad, limits[1], to),
      producer: integrate((x) => density(x) * (1 - accepted(x)), limits[0], limits[1]),
    }
  }
  const normalDensity = (centre: number, sd: number) => (x: number) => normalPdf((x - centre) / sd) / sd

  test('of guarded resistors are those of JCGM 106, 9.5.3.2', () => {
    const { inputs, expected, tolerance, recomputed } = conformity['j106-resistors']
    const { consumer, producer } = risks(
      normalDensity(inputs.y0, inputs.u0),
      inputs.um,
      [inputs.TL, inputs.TU],
      [inputs.AL, inputs.AU],
      [inputs.y0 - 12 * inputs.u0, inputs.y0 + 12 * inputs.u0],
    )
    expectNear(consumer, recomputed.RC, 1e-10)
    expectNear(producer, recomputed.RP, 1e-10)
    expectNear(consumer, expected.RC, tolerance.abs)
    expectNear(producer, expected.RP, tolerance.abs)
    const process = conformanceProbability(inputs.y0, inputs.u0, inputs.TL, inputs.TU, null)
    expectNear(process, recomputed.pc_process, 1e-13)
    expectNear(process, expected.pc_process, tolerance.abs)
    // The decision draws the limits in by just as much.
    const U = 2 * inputs.um
    const decide = (y: number) => outcome(y, U, inputs.TL, inputs.TU, expected.w_over_U, expected.w_over_U)
    expect([inputs.AL - 0.001, inputs.AL + 0.001, inputs.AU - 0.001, inputs.AU + 0.001].map(decide)).toEqual([
      'undecided',
      'pass',
      'pass',
      'undecided',
    ])
  })
  test('of simple acceptance are those of JCGM 106, Figure 17', () => {
    const { expected, tolerance, recomputed } = conformity['j106-fig17']
    for (const [i, capability] of recomputed.Cm.entries()) {
      const { consumer, producer } = risks(
        normalDensity(0, 1 / 6),
        1 / (4 * capability),
        [-0.5, 0.5],
        [-0.5, 0.5],
        [-2, 2],
      )
      expectNear(consumer, recomputed.RC[i]!, 1e-10)
      expectNear(producer, recomputed.RP[i]!, 1e-10)
      const printed = conformity['j106-fig17'].inputs.Cm.indexOf(capability)
      if (printed < 0) continue
      expectNear(consumer, expected.RC[printed]!, tolerance.RC[printed]!)
      expectNear(producer, expected.RP[printed]!, tolerance.RP[printed]!)
    }
  })
  test('of guarded bearings are those of JCGM 106, 9.5.4.1', () => {
    const { inputs, expected, tolerance, recomputed } = conformity['j106-bearings']
    // Gamma prior with α = λ = 4: λ^α x^(α − 1) e^(−λx) / Γ(α).
    const density = (x: number) => (4 ** 4 * x ** 3 * Math.exp(-4 * x)) / 6
    const limit = inputs.T - 2 * inputs.r * inputs.um
    const { consumer, producer } = risks(density, inputs.um, [0, inputs.T], [-1e9, limit], [0, 14])
    expectNear(integrate(density, inputs.T, 14), expected.nonconforming, tolerance.nonconforming)
    expectNear(limit, expected.A, tolerance.A)
    expectNear(consumer, recomputed['RC_r0.65'], 1e-10)
    expectNear(producer, recomputed['RP_r0.65'], 1e-10)
    expectNear(consumer, expected.RC, tolerance.RC)
    expectNear(producer, expected.RP, tolerance.RP)
  })
})
