// Corrections from a certificate: the published thermometer of the GUM, signs, the ends, and the whole way to the result.

import { describe, expect, test } from 'vitest'
import { bindDrivers } from '../../../src/commands/bind-drivers.ts'
import { correctedPa } from '../../../src/core/intake/corrected-pressure.ts'
import { initialRun, step } from '../../../src/core/intake/run.ts'
import { resultOf } from '../../../src/core/judge.ts'
import { type Certificate, certificateOf } from '../../../src/core/model/certificate.ts'
import { type Rig, rigFileSchema } from '../../../src/core/model/rig.ts'
import { pressureUnits } from '../../../src/core/model/units.ts'
import { fitLine } from '../../../src/core/statistics/line.ts'
import {
  betweenPointsPa,
  certifiedRangePa,
  correctionUncertaintyPa,
  isCertified,
} from '../../../src/core/uncertainty/certificate.ts'
import { manometerDifferenceLines } from '../../../src/core/uncertainty/manometer.ts'
import { loadDrivers } from '../../../src/load-drivers.ts'
import { findScenario } from '../../../src/simulation/find-scenario.ts'
import { shortened } from '../../../src/simulation/good-bench.ts'
import type { Scenario } from '../../../src/simulation/scenario.ts'
import { runVirtually } from '../../../src/simulation/virtual-run.ts'
import { gum } from '../../reference/gum.table.ts'
import { expectNear, expectRelative } from '../../reference/near.ts'

const certificate = (points: Certificate['points']): Certificate => ({ points, coverage: 2, driftPa: 0 })

describe('the correction between the points of a certificate', () => {
  const { inputs, expected } = gum['gum-H3']
  const thermometer = certificate(
    inputs.t_C.map((t, i) => ({ readingPa: t, correctionPa: inputs.b_C[i]!, uPa: expected.s })),
  )

  test('is the certified one at each point of GUM Table H.6, and half way the mean of its neighbours', () => {
    for (const [i, t] of inputs.t_C.entries()) {
      expectNear(correctedPa(thermometer, t) - t, inputs.b_C[i]!, 1e-12)
      const next = inputs.t_C[i + 1]
      if (next === undefined) continue
      const middle = (t + next) / 2
      expectNear(correctedPa(thermometer, middle) - middle, (inputs.b_C[i]! + inputs.b_C[i + 1]!) / 2, 1e-12)
    }
  })
  test('stays within 2 s of the calibration line that GUM H.3 lays through the same points', () => {
    const line = fitLine(inputs.t_C, inputs.b_C)!
    for (let t = 21.6; t < 26.5; t += 0.01)
      expectNear(correctedPa(thermometer, t) - t, line.intercept + line.slope * t, 2 * expected.s)
  })
  test('is not known at 30 °C, for which GUM H.3.4 has to trust a line: the points end before', () => {
    expect(isCertified(thermometer, 30)).toBe(false)
    expect(isCertified(thermometer, 24)).toBe(true)
  })
})

test('the uncertainty between two points is never more than the greater of them, nor less than the smaller', () => {
  const calibration = certificate([
    { readingPa: 0, correctionPa: 0, uPa: 0.1 },
    { readingPa: 100, correctionPa: 1, uPa: 0.5 },
  ])
  expect([0, 25, 100].map((pa) => correctionUncertaintyPa(calibration, pa))).toEqual([0.1, 0.2, 0.5])
  // Beyond the last point its correction stays, so that a track has no step; it certifies nothing.
  expect(correctedPa(calibration, 140)).toBe(141)
  expect([certifiedRangePa(calibration), isCertified(calibration, 101.1)]).toEqual([{ lowPa: 0, highPa: 101 }, false])
})

describe('between two points the correction may lie off the straight line', () => {
  const bent = (readings: readonly number[]) =>
    certificate(readings.map((readingPa) => ({ readingPa, correctionPa: 2e-4 * readingPa ** 2, uPa: 0.1 })))

  test('by exactly as much as a manometer does whose error is a parabola', () => {
    const calibration = bent([0, 50, 120, 200])
    for (const pa of [10, 25, 49, 60, 85, 119, 130, 160]) {
      const straight = correctedPa(calibration, pa) - pa
      expectNear(betweenPointsPa(calibration, pa, 0), Math.abs(straight - 2e-4 * pa ** 2), 1e-9)
    }
  })
  test('by nothing at a point and beyond the ends', () => {
    expect([0, 50, 200, 210].map((pa) => betweenPointsPa(bent([0, 50, 200]), pa, 3))).toEqual([0, 0, 0, 0])
  })
  test('by a quarter of the accuracy half way, by all of it where there are two points only', () => {
    const flat = (readings: readonly number[]) =>
      certificate(readings.map((readingPa) => ({ readingPa, correctionPa: 0, uPa: 0.1 })))
    expectRelative(betweenPointsPa(flat([0, 100, 200]), 50, 2), 0.5, 1e-12)
    expectRelative(betweenPointsPa(flat([0, 100, 200]), 25, 2), 0.375, 1e-12)
    expectRelative(betweenPointsPa(flat([0, 100]), 50, 2), 2, 1e-12)
    expect(betweenPointsPa(flat([0, 100]), 50, 0)).toBe(0)
  })
})

describe('in make − break', () => {
  const accuracy = {
    ofReading: 0.01,
    fullScalePa: 2,
    scalePa: 500,
    distribution: 'rectangular' as const,
    coverage: 2,
    hysteresis: null,
  }
  const lines = (given: Partial<typeof accuracy> | { hysteresis: number }) =>
    manometerDifferenceLines({ accuracy: { ...accuracy, ...given }, calibration: null }, 60, 45)

  test('what may be a gain keeps its share of the difference, and twice the accuracy at the make stays between rise and fall', () => {
    expect(lines({}).map((l) => [l.component, l.value])).toEqual([
      ['gauge', expect.closeTo(((0.6 + 2) * 15) / 60, 9)],
      ['hysteresis', 2 * (0.6 + 2)],
    ])
    expectRelative(lines({})[1]!.uPa, 5.2 / Math.sqrt(3), 1e-12)
  })
  test('a stated share of the accuracy takes the place of all of it', () => {
    expectRelative(lines({ hysteresis: 0.1 })[1]!.value!, 2 * 0.1 * 2.6, 1e-12)
    expect(lines({ hysteresis: 0 })[1]!.uPa).toBe(0)
  })
  test('it goes with the accuracy beside a certificate too, which does not say how rise and fall differ', () => {
    const calibration = certificate([
      { readingPa: 0, correctionPa: 0, uPa: 0.1 },
      { readingPa: 40, correctionPa: 0, uPa: 0.1 },
      { readingPa: 100, correctionPa: 0, uPa: 0.1 },
    ])
    const components = (stated: typeof accuracy | null) =>
      manometerDifferenceLines({ accuracy: stated, calibration }, 60, 45).map((l) => l.component)
    expect(components(accuracy)).toEqual(['certificate', 'drift', 'between-points', 'hysteresis'])
    expect(components(null)).toEqual(['certificate', 'drift', 'between-points'])
  })
})

test('a manometer that shows suction as a negative number has its points turned with it', () => {
  const points = [
    { reading: 0, correction: 0, U: 0.001 },
    { reading: -0.5, correction: -0.01, U: 0.002 },
  ]
  const { inH2O } = pressureUnits
  const calibration = certificateOf({ unit: 'inH2O', points, coverage: 2, drift: 0.001 }, -1)
  expect(calibration.points.map((p) => p.readingPa / inH2O)).toEqual([-0, 0.5])
  // It displays −0.25 where −0.255 is right: the suction is larger than shown.
  expectRelative(correctedPa(calibration, 0.25 * inH2O), 0.255 * inH2O, 1e-12)
  expectRelative(correctionUncertaintyPa(calibration, 0.5 * inH2O), 0.001 * inH2O, 1e-12)
  expectRelative(calibration.driftPa, 0.001 * inH2O, 1e-12)
})

describe('in a rig file', () => {
  const rig = (calibration: unknown) => ({
    manometer: { driver: 'ascii-line', suctionSign: 1, digit: { value: 0.1, unit: 'Pa' }, calibration },
    meter: { driver: 'scpi-query', pair: 'com-no' },
  })
  const points = [
    { reading: 0, correction: 0, U: 0 },
    { reading: 100, correction: -0.4, U: 0.3 },
  ]
  const said = (calibration: unknown) => rigFileSchema.safeParse(rig(calibration)).error?.issues[0]?.message ?? null

  test('it stands in place of an accuracy, coverage 2 where none is stated', () => {
    const parsed = rigFileSchema.parse(rig({ unit: 'Pa', points, drift: 0.2 }))
    expect(parsed.manometer?.calibration?.coverage).toBe(2)
  })
  test.each([
    [{ unit: 'Pa', points, drift: 0.2, units: 'Pa' }, /units/],
    [{ unit: 'Pa', points }, /expected number/],
    [{ unit: 'Pa', points: points.slice(1), drift: 0 }, /2/],
    [{ unit: 'Pa', points: [], drift: 0 }, /2/],
    [{ unit: 'Pa', points: [...points, { reading: 100, correction: 0, U: 1 }], drift: 0 }, /100 Pa is there twice/],
    [{ unit: 'Pa', points: [...points, { reading: 200, correction: -150, U: 1 }], drift: 0 }, /check the sign/],
    [{ unit: 'Pa', points: [...points, { reading: 200, correction: 1, U: 0 }], drift: 0 }, /U at 200 Pa is 0/],
    [
      { unit: 'Pa', points: [points[1], { reading: 50, correction: 0, U: 1 }], drift: 0 },
      /from 50 to 100 Pa and must reach 0/,
    ],
  ])('%j is refused', (calibration, sentence) => {
    expect(said(calibration)).toMatch(sentence)
  })
})

describe('over a whole test', async () => {
  const findDecode = bindDrivers(await loadDrivers())
  const resultWith = (scenario: Scenario) => {
    let run = initialRun(findDecode)
    for (const event of runVirtually(scenario, 4).events) if (event.type !== 'seal') run = step(run, event)
    return resultOf(step(run, { type: 'seal', t: run.tUs, lines: 1, sha256: '', matches: true }))!
  }
  const good = shortened(findScenario('good', 4))
  /** A manometer that shows 8 % too much suction, which is more than this part's tolerance leaves. */
  const wrong = (calibration: NonNullable<Rig['manometer']>['calibration']): Scenario => ({
    ...good,
    rig: { ...good.rig, manometer: { ...good.rig.manometer!, calibration } },
    truth: { ...good.truth, manometer: { ...good.truth.manometer, gainError: 0.08 } },
  })
  const shows = (inH2O: number, U = 0.002) => ({ reading: -1.08 * inH2O, correction: 0.08 * inH2O, U })

  test('a gauge that is 8 % wrong tells the true make once its certificate is stated, with its own budget', () => {
    const plain = resultWith(wrong(undefined))
    const points = [0, 0.1, 0.2, 0.3, 0.5].map((inH2O) => shows(inH2O))
    const corrected = resultWith(wrong({ unit: 'inH2O', points, coverage: 2, drift: 0.001 }))
    const { makePa } = good.truth.switch
    expect(plain.make.valuePa! / makePa).toBeGreaterThan(1.06)
    expectNear(corrected.make.valuePa, makePa, corrected.make.UPa!)
    expect(corrected.verdict).toBe('pass')
    const components = corrected.budget.filter((line) => line.quantity === 'make').map((line) => line.component)
    expect(components.slice(0, 3)).toEqual(['certificate', 'drift', 'between-points'])
    expect(components).not.toContain('gauge')
    const [stated, drift] = corrected.budget
    expectRelative(stated!.uPa, 0.001 * pressureUnits.inH2O, 1e-9)
    expectRelative(drift!.uPa, (0.001 * pressureUnits.inH2O) / Math.sqrt(3), 1e-9)
    // In the difference the two points count as independent.
    const joint = corrected.budget.find((line) => line.quantity === 'differential')!
    expectRelative(joint.uPa, Math.SQRT2 * 0.001 * pressureUnits.inH2O, 1e-9)
  })
  test('two points and no accuracy leave a part undecided, with what to state or to have done', () => {
    const bare = (accuracy: boolean, ...at: number[]) => {
      const points = at.map((inH2O) => shows(inH2O))
      const scenario = wrong({ unit: 'inH2O', points, coverage: 2, drift: 0.001 })
      const manometer = { ...scenario.rig.manometer!, ...(accuracy ? {} : { accuracy: null }) }
      return resultWith({ ...scenario, rig: { ...scenario.rig, manometer } })
    }
    const two = bare(false, 0, 0.5)
    expect(two.findings.map((f) => [f.code, f.effect])).toEqual([['two-point-certificate', 'undecided']])
    expect(two.findings[0]!.text).toMatch(/State the accuracy .* or have it calibrated at a point between/)
    expect(two.verdict).toBe('undecided')
    for (const stated of [bare(false, 0, 0.25, 0.5), bare(true, 0, 0.5)])
      expect(stated.findings.map((f) => f.code)).not.toContain('two-point-certificate')
  })
  test('a certificate whose points end before the make never lets a part pass', () => {
    const points = [0, 0.1, 0.2].map((inH2O) => shows(inH2O))
    const result = resultWith(wrong({ unit: 'inH2O', points, coverage: 2, drift: 0.001 }))
    expect(result.verdict).not.toBe('pass')
    expect(result.findings.map((f) => f.code)).toContain('outside-certificate')
  })
  test('a certificate of the other side, points above 0 for a gauge read below 0, covers nothing', () => {
    const points = [0, 0.1, 0.2, 0.3, 0.5].map((inH2O) => ({ reading: inH2O, correction: 0, U: 0.002 }))
    const result = resultWith(wrong({ unit: 'inH2O', points, coverage: 2, drift: 0 }))
    expect(result.findings.map((f) => f.code)).toContain('outside-certificate')
    expect(result.verdict).not.toBe('pass')
  })
})
