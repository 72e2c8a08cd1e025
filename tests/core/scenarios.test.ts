import { beforeAll, describe, expect, test } from 'vitest'
import { type FindingCode, findingRows } from '../../src/core/diagnosis/findings.table.ts'
import type { Result } from '../../src/core/model/result.ts'
import { findScenario, scenarioNames } from '../../src/simulation/find-scenario.ts'
import { shortened } from '../../src/simulation/good-bench.ts'
import { truthOf } from '../../src/simulation/scenario.ts'
import { runVirtually } from '../../src/simulation/virtual-run.ts'
import { resultFrom } from '../harness/fold-events.ts'

const notProved: readonly string[] = ['lag-not-proved', 'line-not-proved']

/** Scenarios that a short plan cannot show, and why; they run at their full length. */
const atFullLength: Readonly<Record<string, string>> = {
  'cable-lost': 'in a short stroke the switch makes earlier',
  'cable-lost-mid-line': 'in a short stroke the switch makes earlier',
  'line-holds-back': 'the plug takes up the slow part of a short stroke, which then trips too fast to count',
  'plugged-line': 'the lag of the hose is read off slow ramps on both sides of the trip, which a short plan leaves out',
  weakening: 'few readings before a trip leave its trend in the noise of some seeds',
  spread: 'few readings before a trip leave its scatter in the noise of some seeds',
}

/** Scenarios whose outcome chance decides: no findings are expected of them, only that doubt passes no part. */
const byChance: Readonly<Record<string, string>> = {
  'no-ballast': 'the plunger jerks at random: which cycles chatter, reverse or are too fast differs from seed to seed',
}

/** Scenarios whose counted cycles have no one true value to be held against. */
const withoutTruth: Readonly<Record<string, string>> = {
  leaky: 'no cycle is counted in a search for leaks',
  'line-holds-back': 'the values are those of the tee: what the line holds back is in the allowance',
}

describe.each([...scenarioNames])('The simulated bench %s', (name) => {
  const scenario = name in atFullLength ? findScenario(name, 1) : shortened(findScenario(name, 1))
  const truth = truthOf(scenario)
  let result: Result
  beforeAll(() => {
    result = resultFrom(runVirtually(scenario, 1).events)
  })

  if (name in byChance) {
    test(`passes no part (${byChance[name]})`, () => expect(result.verdict).not.toBe('pass'))
    return
  }

  test('comes to its verdict with exactly its findings', () => {
    // A short plan may leave hose and leak open near a limit.
    const told = result.findings.map((f) => f.code).filter((code) => !notProved.includes(code))
    expect(told).toEqual(truth.expected.findings)
    expect(result.verdict).toBe(truth.expected.verdict)
    for (const { code, effect } of result.findings) expect(findingRows[code as FindingCode].effects).toContain(effect)
  })

  test('has no value where nothing moved, else one within 4 u of the truth', () => {
    for (const quantity of ['make', 'break'] as const) {
      const { valuePa, uPa } = result[quantity]
      const truePa = quantity === 'make' ? truth.makePa : truth.breakPa
      if (truePa === null) expect(valuePa).toBeNull()
      if (truePa === null || valuePa === null || uPa === null || name in withoutTruth) continue
      expect(Math.abs(valuePa - truePa)).toBeLessThanOrEqual(4 * uPa)
    }
  })
})
