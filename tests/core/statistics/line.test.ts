import { describe, expect, test } from 'vitest'
import { fitCommonSlope, testEqualSlopes } from '../../../src/core/statistics/common-slope.ts'
import { fitLine, lineAt } from '../../../src/core/statistics/line.ts'
import { commonSlope } from '../../reference/common-slope.table.ts'
import { gum } from '../../reference/gum.table.ts'
import { expectDigits, expectNear, expectRelative } from '../../reference/near.ts'
import { nistStrd } from '../../reference/nist-strd.table.ts'
import { robust } from '../../reference/robust.table.ts'

describe('a fitted line', () => {
  const { inputs: norris, expected: certified, tolerance } = nistStrd['strd-norris']
  test('has the certified digits of NIST StRD Norris', () => {
    const line = fitLine(norris.x, norris.y)!
    const digits = tolerance.log_relative_error
    expectDigits(line.intercept, certified.B0, digits)
    expectDigits(line.slope, certified.B1, digits)
    expectDigits(line.uIntercept, certified.s_B0, digits)
    expectDigits(line.uSlope, certified.s_B1, digits)
    expectDigits(line.residualSd, certified.residual_sd, digits)
    expect(line.dof).toBe(34)
  })
  test('keeps slope and scatter to 9 digits when both axes are shifted by a billion', () => {
    // Norris in tenths, so that the shift costs no digit of the data themselves.
    const shifted = (values: readonly number[]) => values.map((v) => Math.round(v * 10) + 1e9)
    const line = fitLine(shifted(norris.x), shifted(norris.y))!
    expectDigits(line.slope, certified.B1, 9)
    expectDigits(line.uSlope, certified.s_B1, 9)
    expectDigits(line.residualSd, 10 * certified.residual_sd, 9)
  })
  test('is the thermometer correction of GUM H.3, at 20 °C, at the middle and at 30 °C', () => {
    const { inputs, expected, tolerance: off, recomputed } = gum['gum-H3']
    const line = fitLine(
      inputs.t_C.map((t) => t - inputs.t0_C),
      inputs.b_C,
    )!
    expectNear(line.intercept, expected.y1, off.y1)
    expectNear(line.uIntercept, expected.s_y1, off.s_y1)
    expectNear(line.slope, expected.y2, off.y2)
    expectNear(line.uSlope, expected.s_y2, off.s_y2)
    expectNear(line.covariance / (line.uIntercept * line.uSlope), expected.r, off.r)
    expectNear(line.residualSd, expected.s, off.s)
    expect(line.dof).toBe(expected.dof)
    expectNear(line.xCentre + inputs.t0_C, expected.t_bar, off.t_bar)
    expectNear(line.yCentre, expected.centred_y1, off.centred_y1)
    expectNear(line.uCentre, expected.centred_s_y1, off.centred_s_y1)
    const at30 = lineAt(line, 10)
    expectNear(at30.value, recomputed.b_at_30, 5e-9)
    expectNear(at30.u, recomputed.u_b_at_30, 5e-10)
    expectNear(at30.value, expected.b_at_30, off.b_at_30)
    expectNear(at30.u, expected.u_b_at_30, off.u_b_at_30)
  })
  test('counts a point of weight 2 like two points', () => {
    const once = fitLine([1, 2, 3, 5], [2, 3, 5, 4], [1, 2, 1, 1])!
    const twice = fitLine([1, 2, 2, 3, 5], [2, 3, 3, 5, 4])!
    expectRelative(once.slope, twice.slope, 1e-14)
    expectRelative(once.intercept, twice.intercept, 1e-14)
    // One point less to judge the scatter by.
    expectRelative(once.uSlope * Math.sqrt(2), twice.uSlope * Math.sqrt(3), 1e-14)
  })
  test('does not depend on the scale of the weights', () => {
    const [xs, ys] = [
      [1, 2, 3, 5],
      [2, 3, 5, 4],
    ] as const
    expectRelative(fitLine(xs, ys, [10, 20, 10, 10])!.uIntercept, fitLine(xs, ys, [1, 2, 1, 1])!.uIntercept, 1e-14)
  })
  test('is drawn far off by one wild value, as least squares are (Helsel and Hirsch, chapter 10, from memory)', () => {
    const { inputs, expected, tolerance: off } = robust['theil-sen-helsel']
    expectNear(fitLine(inputs.x, inputs.y)!.slope, expected.ols_slope, off.ols_slope)
  })
  test('is null below three points and where all x are the same', () => {
    expect(fitLine([], [])).toBeNull()
    expect(fitLine([1, 2], [1, 2])).toBeNull()
    expect(fitLine([4, 4, 4], [1, 2, 3])).toBeNull()
  })
})

describe('parallel lines', () => {
  const { inputs, expected, tolerance, recomputed } = commonSlope['ancova-crickets']
  const groups = [inputs.group_ex_x_y, inputs.group_niv_x_y].map((points) => ({
    xs: points.map((point) => point[0]!),
    ys: points.map((point) => point[1]!),
  }))
  test('of two kinds of crickets have the published slope, intercepts and uncertainties', () => {
    const lines = fitCommonSlope(groups)!
    const [first, second] = lines.intercepts as [number, number]
    const shiftU = Math.sqrt(lines.covariance(0, 0) + lines.covariance(1, 1) - 2 * lines.covariance(0, 1))
    const found = [first, lines.slope, second - first, lines.uIntercepts[0]!, lines.uSlope, shiftU]
    const printed = [expected.intercept_ex, expected.slope, expected.shift_niv, ...expected.se]
    const exact = [...recomputed.coefficients, ...recomputed.se]
    for (const [i, value] of found.entries()) {
      expectNear(value, printed[i]!, tolerance.coefficients)
      expectNear(value, exact[i]!, 5.1e-9)
    }
    expectNear(lines.residualSd, expected.residual_se, tolerance.residual_se)
    expectNear(lines.residualSd ** 2 * lines.dof, recomputed.RSS, 1e-9)
    expect(lines.dof).toBe(expected.dof)
    expectNear((lines.slope / lines.uSlope) ** 2, expected.F_slope, tolerance.F)
    expectNear(((second - first) / shiftU) ** 2, expected.F_group, tolerance.F)
  })
  test('of the crickets pass the published test of equal slopes', () => {
    const equal = testEqualSlopes(groups)!
    expectNear(equal.f, expected.equal_slope_test.F, tolerance.equal_slope_F)
    expect(equal.dof).toEqual(expected.equal_slope_test.df)
    expectNear(equal.p, expected.equal_slope_test.p, tolerance.p)
    expectNear(equal.p, recomputed.p_equal_slope, 1e-9)
  })
  test('of one group are its own line', () => {
    const [group] = groups as [(typeof groups)[0]]
    const [alone, line] = [fitCommonSlope([group])!, fitLine(group.xs, group.ys)!]
    expectRelative(alone.slope, line.slope, 1e-14)
    expectRelative(alone.intercepts[0], line.intercept, 1e-13)
    expectRelative(alone.uIntercepts[0], line.uIntercept, 1e-13)
  })
  test('take a group of one x for its height alone', () => {
    const lines = fitCommonSlope([groups[0]!, { xs: [30], ys: [50] }])!
    expectRelative(lines.slope, fitLine(groups[0]!.xs, groups[0]!.ys)!.slope, 1e-14)
    expectRelative(lines.intercepts[1], 50 - 30 * lines.slope, 1e-13)
  })
  test('are null where a group is empty, where no x varies, and without a point to spare', () => {
    expect(fitCommonSlope([groups[0]!, { xs: [], ys: [] }])).toBeNull()
    expect(
      fitCommonSlope([
        { xs: [1, 1, 1], ys: [1, 2, 3] },
        { xs: [2, 2], ys: [1, 2] },
      ]),
    ).toBeNull()
    expect(fitCommonSlope([{ xs: [1, 2], ys: [1, 2] }])).toBeNull()
    expect(testEqualSlopes([groups[0]!])).toBeNull()
    expect(testEqualSlopes([groups[0]!, { xs: [3, 3, 3], ys: [1, 2, 3] }])).toBeNull()
    expect(
      testEqualSlopes([
        { xs: [1, 2], ys: [1, 2] },
        { xs: [1, 2], ys: [1, 3] },
      ]),
    ).toBeNull()
  })
})
