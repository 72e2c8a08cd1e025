import { describe, expect, test } from 'vitest'
import { grubbs, grubbsCritical } from '../../../src/core/statistics/grubbs.ts'
import { mannKendall, theilSen } from '../../../src/core/statistics/trend.ts'
import { expectNear, expectRelative } from '../../reference/near.ts'
import { robust } from '../../reference/robust.table.ts'

describe('Grubbs’ test', () => {
  test('finds the outlier of the e-Handbook (1.3.5.17.1) and its critical values', () => {
    const { inputs, expected, tolerance, recomputed } = robust['grubbs-nist']
    const found = grubbs(inputs.y)!
    expectNear(found.g, expected.G, tolerance.G)
    expectRelative(found.g, recomputed.G, 1e-13)
    expect(inputs.y[found.index]).toBe(expected.outlier)
    expectNear(grubbsCritical(inputs.y.length, inputs.alpha, 1), expected.critical_one_sided, tolerance.critical)
    expectNear(grubbsCritical(inputs.y.length, inputs.alpha, 2), expected.critical_two_sided, tolerance.critical)
    expectRelative(grubbsCritical(inputs.y.length, inputs.alpha, 2), recomputed.two_sided, 1e-12)
  })
  test.each(['grubbs-table-5', 'grubbs-table-5-two'] as const)(
    'has the critical values of %s for 3 to 20 values',
    (id) => {
      const { inputs, expected, tolerance } = robust[id]
      for (const [i, n] of inputs.n.entries())
        expectNear(grubbsCritical(n, inputs.alpha, inputs.sided === 1 ? 1 : 2), expected.critical[i]!, tolerance.abs)
    },
  )
  test('finds a low outlier too', () => {
    expect(grubbs([5, 5.1, 1, 4.9])?.index).toBe(2)
  })
  test('has nothing to say of two values or of equal ones', () => {
    expect([grubbs([1, 2]), grubbs([3, 3, 3, 3])]).toEqual([null, null])
    expect(grubbsCritical(2, 0.05, 2)).toBeNaN()
  })
})

describe('trends by rank', () => {
  test('of the sulfate series are those of the USEPA Unified Guidance, Example 17-6', () => {
    const { inputs, expected, tolerance, recomputed } = robust['kendall-epa-17-6']
    const [xs, ys] = [0, 1].map((column) => inputs.t_y.map((row) => row[column]!)) as [number[], number[]]
    const line = theilSen(xs, ys)!
    expectNear(line.slope, expected.theil_sen_slope, tolerance.slope)
    expectNear(line.intercept, expected.intercept_median, tolerance.intercept)
    const trend = mannKendall(ys)!
    expect([trend.s, trend.varS]).toEqual([recomputed.S, recomputed.var_S])
    expectNear(trend.tau, expected.tau, tolerance.tau)
    expectNear(trend.z, expected.z, tolerance.z)
    expectNear(trend.p, expected.p_two_sided, tolerance.p)
  })
  test('allow for ties as in the example worked by hand', () => {
    const { inputs, expected, tolerance, recomputed } = robust['mann-kendall-ties']
    const trend = mannKendall(inputs.y)!
    expect(trend.s).toBe(expected.S)
    expectNear(trend.varS, expected.var_S, tolerance.var_S)
    expectNear(trend.z, expected.z, tolerance.z)
    expectRelative(trend.z, recomputed.z, 1e-14)
  })
  test('of four values are judged by counting orders (Gilbert 1987, Table A18, from memory)', () => {
    const { inputs, expected, tolerance } = robust['mann-kendall-small']
    const trend = mannKendall(inputs.y)!
    expect(trend.s).toBe(expected.S)
    // Both sides: twice the printed one.
    expectNear(trend.p / 2, expected.p_one_sided_exact, tolerance.abs)
  })
  test('count as the enumeration of all 120 orders of five values does', () => {
    const orders = (rest: readonly number[]): number[][] =>
      rest.length === 0 ? [[]] : rest.flatMap((v) => orders(rest.filter((w) => w !== v)).map((order) => [v, ...order]))
    const all = orders([1, 2, 3, 4, 5]).map((order) => mannKendall(order)!)
    for (const trend of all)
      expectNear(trend.p, all.filter((other) => Math.abs(other.s) >= Math.abs(trend.s)).length / all.length, 1e-15)
  })
  test('hold the line against one wild value (Helsel and Hirsch, chapter 10, from memory)', () => {
    const { inputs, expected, tolerance } = robust['theil-sen-helsel']
    const line = theilSen(inputs.x, inputs.y)!
    expectNear(line.slope, expected.theil_sen_slope, tolerance.theil_sen_slope)
    expectNear(line.intercept, 0, 1e-12)
  })
  test('see none in equal values, and answer null where there is too little', () => {
    expect(mannKendall([2, 2, 2, 2])).toMatchObject({ s: 0, z: 0, p: 1 })
    expect([mannKendall([1, 2]), theilSen([], []), theilSen([1, 1], [1, 2])]).toEqual([null, null, null])
  })
})
