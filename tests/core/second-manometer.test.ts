// Two manometers, at the tee and at the switch end, over whole simulated tests: what the second proves, and what it never does.
import { describe, expect, test } from 'vitest'
import type { Verdict } from '../../src/core/model/result.ts'
import { findScenario } from '../../src/simulation/find-scenario.ts'
import { goodBench } from '../../src/simulation/good-bench.ts'
import type { Scenario } from '../../src/simulation/scenario.ts'
import { airOf, gaugeOf, planOf, switchOf, truthOf, withSecond } from '../../src/simulation/vary.ts'
import { runVirtually } from '../../src/simulation/virtual-run.ts'
import { resultFrom } from '../harness/fold-events.ts'

const results = new Map<Scenario, ReturnType<typeof resultFrom>>()
function resultOf(scenario: Scenario, seed = 1) {
  const result = results.get(scenario) ?? resultFrom(runVirtually(scenario, seed).events)
  results.set(scenario, result)
  return result
}
const codes = (scenario: Scenario) => resultOf(scenario).findings.map(({ code }) => code)

/** One pace and no rest at a peak: neither hose nor leak is proved. */
const plain = (bench: Scenario) =>
  planOf(bench, { briskStrokes: 0, holdInPreconditionS: 0, peakHoldS: 0, unevenness: 0.04 })
/** The make so near its low limit that what a leak may take counts: 0.22 inH2O is 54.8 Pa. */
const nearLimit = (bench: Scenario) =>
  planOf(switchOf(bench, { makePa: 58.5, breakPa: 46 }), { expectedMakePa: 58.5, expectedBreakPa: 46 })
/** With one manometer the hose is pinched as well, so that both tests are the same but for the second. */
const single = planOf(plain(nearLimit(goodBench())), { pinchS: 4 })
const double = withSecond(single)
const sound = plain(withSecond(goodBench()))
/** Much better manometers than the usual ones, so that little of a line can hide in what they claim. */
const fine = (bench: Scenario) => {
  const first = bench.rig.manometer!
  const accuracy = { ...first.accuracy!, ofFullScale: 0.0005 }
  const manometer = { ...first, accuracy, digit: { value: 0.0001, unit: 'inH2O' as const } }
  const sharp = gaugeOf({ ...bench, rig: { ...bench.rig, manometer } }, { digit: 0.0001, noisePa: 0.03, gainError: 0 })
  return withSecond(sharp, { gainError: 0, offsetPa: 0.05 })
}

describe('a sound line between two manometers', () => {
  test('needs neither fast strokes nor a hold: a test that lacked only them passes', () => {
    expect(resultOf(single).verdict).toBe('undecided')
    expect(codes(single)).toEqual(['line-not-proved'])
    expect(resultOf(double).verdict).toBe('pass')
    expect(codes(double)).toEqual([])
  })
  test('leaves open what the second claims and the delay of the displays, and no less', () => {
    const [one, two] = [resultOf(single), resultOf(double)]
    expect(two.make.valuePa).toBe(one.make.valuePa)
    // 0.25 % of 2 inH2O with a coverage of 2: one-sided 95 % of it is 1.02 Pa.
    expect(two.make.allowLowPa).toBeGreaterThan(1)
    expect(two.make.allowLowPa).toBeLessThan(2.4)
    expect(one.make.allowLowPa).toBeGreaterThan(5.5)
  })
  test('has its quality told, beside the first', () => {
    const { quality } = resultOf(double)
    expect(quality['manometer-2']!.lines).toBeGreaterThan(1000)
    expect(quality['manometer-2']).toMatchObject({ unreadable: 0, gaps: 0 })
    expect(Object.keys(quality)).toEqual(['manometer', 'manometer-2', 'meter'])
  })
})

test('a second manometer whose scale ends below the trips proves nothing, and the reason is told', () => {
  const second = double.rig['manometer-2']!
  const accuracy = { ...second.accuracy!, ofFullScale: 0.025, fullScale: { value: 0.2, unit: 'inH2O' as const } }
  const short = { ...double, rig: { ...double.rig, 'manometer-2': { ...second, accuracy } } }
  expect(codes(short)).toEqual(['line-not-proved', 'second-proves-nothing'])
  expect(resultOf(short).findings.at(-1)?.evidence).toEqual({ why: 'outside-scale' })
  expect(resultOf(short).make.allowLowPa).toBeGreaterThan(5.5)
})

describe('where the second manometer sits', () => {
  const notPinched = [['second-proves-nothing', 'not-pinched']]
  const whys = (scenario: Scenario) =>
    resultOf(scenario).findings.flatMap(({ code, evidence }) => (evidence['why'] ? [[code, evidence['why']]] : []))
  const leaking = (bench: Scenario) => airOf(bench, { switchSeesShare: 0.94 })
  test('is shown by a pinched hose; without it the second proves nothing', () => {
    const unpinched = planOf(double, { pinchS: 0 })
    expect(codes(unpinched)).toEqual(['line-not-proved', 'second-proves-nothing'])
    expect(whys(unpinched)).toEqual(notPinched)
    expect(resultOf(unpinched).make.allowLowPa).toBeGreaterThan(5.5)
  })
  test('a pinch of less than three seconds shows nothing', () => {
    expect(whys(planOf(double, { pinchS: 1.5 }))).toEqual(notPinched)
  })
  test.each<[string, Partial<Scenario['truth']['manometer']>]>([
    ['as quick as the first', {}],
    ['that takes 3 s to follow', { dampingS: 3 }],
    ['that averages 2 s', { boxcarS: 2 }],
  ])('at the tee of a leaking line one %s passes no part that makes too low', (_, change) => {
    // Makes at 54.3 Pa, below its limit of 54.8; the tee shows 57.8 Pa then.
    const low = switchOf(nearLimit(goodBench()), { makePa: 54.3, breakPa: 43 })
    const bench = truthOf(leaking(withSecond(low, change)), { secondAtTee: true })
    const plainBench = planOf(plain(bench), { pinchS: 4 })
    expect(whys(plainBench)).toEqual(notPinched)
    const { make, verdict } = resultOf(plainBench)
    expect(verdict).not.toBe('pass')
    expect(make.valuePa! - make.UPa! - make.allowLowPa!).toBeLessThan(54.3)
  })
})

describe('a plug that lets nothing through below some pressure, which no pace shows', () => {
  const holding = (pa: number) => (bench: Scenario) => airOf(bench, { hoseHoldsPa: pa })
  test('passes a part that makes too low, where one manometer is all there is', () => {
    // Makes at 54.3 Pa, which is below its limit; the tee shows 57.3 Pa then.
    const low = planOf(switchOf(goodBench(), { makePa: 54.3, breakPa: 43 }), {
      expectedMakePa: 56,
      expectedBreakPa: 42,
    })
    const plugged = holding(3)(low)
    const alone = resultFrom(runVirtually(withSecond(fine(plugged)), 1).events)
    expect(alone.verdict).not.toBe('pass')
    const { rig, ...rest } = fine(plugged)
    const { 'manometer-2': _, ...first } = rig
    const one = truthOf({ ...rest, rig: first }, { atSwitch: null })
    expect(resultOf(one).verdict).toBe('pass')
  })
  test.each([2, 3, 4])('is named where it holds back %d Pa, and the allowance holds the truth', (pa) => {
    const bench = holding(pa)(fine(goodBench()))
    const { verdict, findings, make, break: back } = resultOf(bench)
    expect(verdict).toBe('undecided')
    const plugged = findings.find(({ code }) => code === 'plugged-line')!
    expect(plugged.evidence['heldPa']).toBeGreaterThan(pa - 0.5)
    expect(plugged.text).toContain('The line holds back')
    const { makePa, breakPa } = bench.truth.switch
    expect(make.valuePa! - make.UPa! - make.allowLowPa!).toBeLessThan(makePa)
    expect(back.valuePa! + back.UPa! + back.allowHighPa!).toBeGreaterThan(breakPa)
  })
})

describe('the second manometer checks the first', () => {
  const wrong = findScenario('manometers-differ', 1)
  test('where they differ by more than both claim it says by how much, and decides nothing', () => {
    const { verdict, findings } = resultOf(wrong)
    expect(verdict).toBe('undecided')
    const [differ] = findings
    expect(differ!.code).toBe('manometers-differ')
    expect(differ!.text).toMatch(
      /^The second manometer shows .* Pa\) more than the first at .*: more than both claim\./,
    )
    const { differPa, firstClaimsPa, secondClaimsPa } = differ!.evidence
    expect(Math.abs(Number(differPa))).toBeGreaterThan(Number(firstClaimsPa) + Number(secondClaimsPa))
  })
  test('within what both claim nothing is said', () => {
    expect(codes(withSecond(goodBench(), { gainError: -0.015, offsetPa: 0.2 }))).toEqual([])
  })
  test('where they differ it proves nothing of the line', () => {
    const [one, two] = [resultOf(single), resultOf(plain(withSecond(nearLimit(goodBench()), { gainError: 0.1 })))]
    expect(two.make.allowLowPa).toBe(one.make.allowLowPa)
  })
  test('a leak at the switch end lowers both: the allowance holds the truth', () => {
    const { make } = resultOf(airOf(sound, { switchSeesShare: 0.97 }))
    expect(make.valuePa! - make.UPa! - make.allowLowPa!).toBeLessThan(62.27)
    // Without the second a tenth of the value is allowed for.
    expect(make.allowLowPa).toBeLessThan(5)
  })
})

describe('a second manometer that is not there any more', () => {
  const off = (stroke: number) =>
    truthOf(double, { cables: [{ port: 'manometer-2', stroke, afterS: 3, forS: null, midLine: false }] })
  test('proves nothing from there on, and takes nothing from what the first shows', () => {
    const [one, two] = [resultOf(single), resultOf(off(7))]
    expect(two.findings.map(({ code, effect }) => [code, effect])).toEqual([
      ['line-not-proved', 'undecided'],
      ['second-proves-nothing', 'note'],
    ])
    expect(two.findings[1]!.evidence['why']).toBe('lost')
    for (const quantity of ['make', 'break', 'differential'] as const) expect(two[quantity]).toEqual(one[quantity])
    expect(two.cycles).toEqual(one.cycles)
  })
  test('lost after the last stroke it has proved the line', () => {
    const strokes = 1 + double.plan.preconditioning + double.plan.cycles
    const late = truthOf(double, {
      cables: [{ port: 'manometer-2', stroke: strokes, afterS: 75, forS: null, midLine: false }],
    })
    expect(resultOf(late).make.allowLowPa).toBeLessThan(3)
  })
  test.each<[string, Partial<Scenario['truth']['manometer']>, string]>([
    ['held', { holds: [{ stroke: 5, afterS: 3, forS: 8, flag: true }] }, 'silent'],
    [
      'in another unit',
      { unitChanges: [{ stroke: 5, afterS: 2, forS: null, unit: 'mmH2O', unitText: 'mmH2O', digit: 0.01 }] },
      'unit-changed',
    ],
  ])('%s voids nothing', (_, change, why) => {
    const { verdict, findings } = resultOf(withSecond(goodBench(), change))
    expect(verdict).toBe('pass')
    expect(findings.map(({ code, evidence }) => [code, evidence['why']])).toEqual([['second-proves-nothing', why]])
  })
  test('past its date proves nothing', () => {
    const second = { ...double.rig['manometer-2']!, identity: { due: '2026-01-31' } }
    const overdue = { ...double, rig: { ...double.rig, 'manometer-2': second } }
    expect(codes(overdue)).toEqual(['line-not-proved', 'second-proves-nothing'])
  })
})

describe('a second manometer never makes a bad part pass', () => {
  const grave: readonly Verdict[] = ['fail', 'void', 'undecided']
  test.each([
    'off-low',
    'off-high',
    'breaks-low',
    'sticky-outside',
    'stuck-closed',
    'water-in-line',
    'unit-changed',
    'chatter',
    'cable-lost',
    'weakening',
  ])('%s: with it the verdict is no better', (name) => {
    const bench = findScenario(name, 1)
    const [one, two] = [resultOf(bench).verdict, resultOf(withSecond(bench)).verdict]
    expect(grave).toContain(one)
    expect(two).toBe(one)
  })
})

describe('what speaks against the first manometer counts, however little of the second was seen', () => {
  // The tee shows 58.3 Pa where the part makes at 53: its limit is 54.8 Pa.
  const wrongGauge = gaugeOf(switchOf(goodBench(), { makePa: 53, breakPa: 42 }), { gainError: 0.1, offsetPa: 0 })
  const honest = { gainError: 0, offsetPa: 0 }
  const codesOf = (scenario: Scenario) => codes(planOf(scenario, { expectedMakePa: 53, expectedBreakPa: 42 }))
  test.each<[string, Partial<Scenario['truth']['manometer']>]>([
    ['one reading in a second', { linePeriodS: 1 }],
    ['one reading in 3 s, which proves nothing', { linePeriodS: 3.3 }],
    ['all with the sign turned', { suctionSign: 1 }],
  ])('%s', (_, change) => {
    expect(codesOf(withSecond(wrongGauge, { ...honest, ...change }))).toContain('manometers-differ')
  })
  test('lost for good after the third stroke', () => {
    const cables = [{ port: 'manometer-2' as const, stroke: 4, afterS: 3, forS: null, midLine: false }]
    const lost = truthOf(withSecond(wrongGauge, honest), { cables })
    expect(codesOf(lost)).toEqual(expect.arrayContaining(['manometers-differ', 'second-proves-nothing']))
    expect(resultOf(planOf(lost, { expectedMakePa: 53, expectedBreakPa: 42 })).verdict).not.toBe('pass')
  })
  test('a slow one that agrees says nothing against it', () => {
    expect(codes(withSecond(goodBench(), { ...honest, linePeriodS: 3.3 }))).not.toContain('manometers-differ')
    expect(codes(withSecond(goodBench(), { ...honest, linePeriodS: 1, dampingS: 1 }))).not.toContain(
      'manometers-differ',
    )
  })
})
