import { describe, expect, test } from 'vitest'
import { fitCommonSlope } from '../../../src/core/statistics/common-slope.ts'
import { fitLine } from '../../../src/core/statistics/line.ts'
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
  test('is the thermometer correction of GUM H.3, at 20 °C and at 30 °C', () => {
    const { inputs, expected, tolerance: off, recomputed } = gum['gum-H3']
    const line = fitLine(
      inputs.t_C.map((t) => t - inputs.t0_C),
      inputs.b_C,
    )!
    expectNear(line.intercept, expected.y1, off.y1)
    expectNear(line.slope, expected.y2, off.y2)
    expectNear(line.uSlope, expected.s_y2, off.s_y2)
    expectNear(line.residualSd, expected.s, off.s)
    expect(line.dof).toBe(expected.dof)
    const at30 = line.intercept + 10 * line.slope
    expectNear(at30, recomputed.b_at_30, 5e-9)
    expectNear(at30, expected.b_at_30, off.b_at_30)
  })
  test('is drawn far off by one wild value, as least squares are (Helsel and Hirsch, chapter 10, from memory)', () => {
    const { inputs, expected, tolerance: off } = robust['wild-value-helsel']
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
  test('of one group are its own line', () => {
    const [group] = groups as [(typeof groups)[0]]
    const [alone, line] = [fitCommonSlope([group])!, fitLine(group.xs, group.ys)!]
    expectRelative(alone.slope, line.slope, 1e-14)
    expectRelative(alone.intercepts[0], line.intercept, 1e-13)
    expectRelative(alone.uSlope, line.uSlope, 1e-13)
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
  })
})
