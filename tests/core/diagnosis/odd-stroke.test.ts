// One stroke among many: outside a limit, or far from the others; and trips beyond what the manometer's accuracy is stated for.
import { describe, expect, test } from 'vitest'
import { type Analysis, analyse } from '../../../src/core/analyse.ts'
import type { Case } from '../../../src/core/diagnosis/rule.ts'
import { oddStroke } from '../../../src/core/diagnosis/rules/odd-stroke.ts'
import { outsideScale } from '../../../src/core/diagnosis/rules/outside-scale.ts'
import { findScenario } from '../../../src/simulation/find-scenario.ts'
import { goodBench } from '../../../src/simulation/good-bench.ts'
import type { Scenario } from '../../../src/simulation/scenario.ts'
import { switchOf } from '../../../src/simulation/vary.ts'
import { runVirtually } from '../../../src/simulation/virtual-run.ts'
import { foldEvents, resultFrom } from '../../harness/fold-events.ts'

type Cycle = Analysis['cycles'][number]

const run = foldEvents(runVirtually(goodBench(), 1).events)
const analysis = analyse(run, run.setup!)
const clear = {
  limits: [],
  notProved: null,
  contradicted: { trips: [], value: null, lagS: null, brackets: { make: null, break: null } },
}
const caseOf = (change: Partial<Analysis>): Case => ({ ...analysis, ...clear, ...change })

/** The good test with the trip of one stroke moved, and the limits that are given. */
function movedBy(
  name: 'make' | 'break',
  pa: number,
  stroke: number,
  limits: Partial<Case['setup']['rating']['limits']> = {},
) {
  const rating = { ...analysis.setup.rating, limits: { ...analysis.setup.rating.limits, ...limits } }
  const moved = (cycle: Cycle): Cycle => {
    const key = `${name}Value` as const
    const value = cycle[key]!
    const { valuePa, loPa, hiPa } = value
    return { ...cycle, [key]: { ...value, valuePa: valuePa + pa, loPa: loPa + pa, hiPa: hiPa + pa } }
  }
  const cycles = analysis.cycles.map((cycle) => (cycle.stroke === stroke ? moved(cycle) : cycle))
  return caseOf({ cycles, setup: { ...analysis.setup, rating } })
}
const toldOf = (c: Case) => oddStroke(c).map(({ effect, text }) => [effect, text])

describe('a stroke that counts', () => {
  test('as all the others are says nothing', () => {
    expect(oddStroke(caseOf({}))).toEqual([])
  })
  test('that makes below the low limit keeps the part from a pass, though the others are right', () => {
    expect(toldOf(movedBy('make', -9, 6))).toEqual([
      ['undecided', expect.stringMatching(/^Stroke 6 made at 0\.21\d* inH2O .*, below its limit\. Repeat the test/)],
    ])
  })
  test('whose differential is more than its limit does so too, make and break within theirs', () => {
    const wide = {
      break: { lowPa: 20, highPa: null },
      make: { lowPa: 50, highPa: 75 },
      differential: { lowPa: 5, highPa: 18 },
    }
    expect(toldOf(movedBy('break', -6, 6, wide))).toEqual([
      ['undecided', expect.stringMatching(/^Stroke 6 differed by .*, more than its limit/)],
    ])
  })
  test('may lie outside by less than its own uncertainty', () => {
    const { valuePa } = analysis.cycles.find(({ used }) => used)!.makeValue!
    expect(oddStroke(movedBy('make', 0, 6, { make: { lowPa: valuePa + 0.2, highPa: null } }))).toEqual([])
  })
  test('far from the others is told where no limit is given', () => {
    const none = { break: null, differential: null }
    expect(toldOf(movedBy('break', -9, 6, none))).toEqual([
      ['undecided', expect.stringMatching(/^Stroke 6 released at .*, far below the others at /)],
    ])
    expect(oddStroke(movedBy('break', -3, 6, none))).toEqual([])
  })
})

test('a part that conducts far too early in one stroke of many does not pass', () => {
  const odd = (strokes: number[], shiftPa: number): Scenario =>
    switchOf(goodBench(), { shifts: [{ strokes, shiftPa }] })
  for (const shiftPa of [-11, -18])
    expect(resultFrom(runVirtually(odd([7], shiftPa), 1).events).verdict).not.toBe('pass')
})

test('a preconditioning stroke that lets go far below the others is told where no break limit is given', () => {
  const bench = switchOf(goodBench(), { shifts: [{ strokes: [3], shiftPa: -30 }] })
  const make = bench.part.limits!.make!
  const part = { ...bench.part, limits: { make: { ...make, low: 0.08 } } }
  const { verdict, findings } = resultFrom(runVirtually({ ...bench, part }, 1).events)
  expect(verdict).not.toBe('pass')
  expect(findings.map(({ code }) => code)).toContain('odd-stroke')
})

describe('the full scale of a manometer', () => {
  const scaled = (scalePa: number) => {
    const accuracy = { ...analysis.setup.rig.accuracy!, scalePa }
    return caseOf({ setup: { ...analysis.setup, rig: { ...analysis.setup.rig, accuracy } } })
  }
  test('below the trips keeps the part from a pass, for nothing is stated beyond it', () => {
    const [told] = outsideScale(scaled(50))
    expect(told!.effect).toBe('undecided')
    expect(told!.text).toMatch(/ lies beyond the full scale of the manometer, 0\.2\d* inH2O \(50(\.0)? Pa\)/)
    expect(told!.evidence['trips']).toBe(analysis.cycles.filter((c, i) => c.used || i === 0).length)
  })
  test('above them says nothing, and a certificate states its own range', () => {
    expect(outsideScale(scaled(100))).toEqual([])
    expect(findScenario('good', 1).rig.manometer!.accuracy!.fullScale).toEqual({ value: 2, unit: 'inH2O' })
  })
})
