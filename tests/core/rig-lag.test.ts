// Lags of several tests into one: the weighted mean by hand, how disagreement widens it, and what does not count.
import { describe, expect, test } from 'vitest'
import { bindDrivers } from '../../src/commands/bind-drivers.ts'
import { initialRun, type Run, step } from '../../src/core/intake/run.ts'
import { addLine, noLines } from '../../src/core/model/line-ranges.ts'
import { lagShownBy, poolLags, rigMarks } from '../../src/core/rig-lag.ts'
import { loadDrivers } from '../../src/load-drivers.ts'
import { findScenario } from '../../src/simulation/find-scenario.ts'
import { shortened } from '../../src/simulation/good-bench.ts'
import type { Scenario } from '../../src/simulation/scenario.ts'
import { runVirtually } from '../../src/simulation/virtual-run.ts'
import { expectRelative } from '../reference/near.ts'

describe('pooling', () => {
  test('weighs by inverse variance where the tests agree, and says the Birge ratio', () => {
    const pooled = poolLags([
      { valueS: 0.05, uS: 0.02 },
      { valueS: 0.07, uS: 0.04 },
    ])!
    // Weights 4 to 1: 0.05 + 0.02/5; u = 0.02·√(4/5); χ² = (0.004/0.02)² + (0.016/0.04)² = 0.2 with one degree of freedom.
    expectRelative(pooled.valueS, 0.054, 1e-12)
    expectRelative(pooled.uS, 0.02 * Math.sqrt(0.8), 1e-12)
    expectRelative(pooled.birgeRatio, Math.sqrt(0.2), 1e-12)
    expect(pooled).toMatchObject({ n: 2, agree: true })
  })
  test('widens u by the Birge ratio where they differ by more than they state', () => {
    const pooled = poolLags([
      { valueS: 0, uS: 0.02 },
      { valueS: 0.1, uS: 0.02 },
      { valueS: 0.05, uS: 0.02 },
    ])!
    // χ² = 2·(0.05/0.02)² = 12.5 over two degrees of freedom: p = exp(−6.25), Birge ratio 2.5.
    expectRelative(pooled.p, Math.exp(-6.25), 1e-9)
    expectRelative(pooled.uS, (2.5 * 0.02) / Math.sqrt(3), 1e-12)
    expect(pooled.agree).toBe(false)
  })
  test('of one is that one, held against nothing; of none there is none', () => {
    expect(poolLags([{ valueS: 0.05, uS: 0.02 }])).toMatchObject({
      uS: 0.02,
      n: 1,
      birgeRatio: null,
      p: null,
      agree: true,
    })
    expect(poolLags([])).toBeNull()
  })
})

describe('a test', async () => {
  const findDecode = bindDrivers(await loadDrivers())
  const fold = (scenario: Scenario, seal = true): Run => {
    let run = initialRun(findDecode)
    for (const event of runVirtually(scenario, 2).events) if (event.type !== 'seal') run = step(run, event)
    return seal ? step(run, { type: 'seal', t: run.tUs, lines: 1, sha256: '', matches: true }) : run
  }
  const good = shortened(findScenario('good', 2))
  const run = fold(good)

  test('shows its lag by itself: what its rig file states of it changes nothing', () => {
    const told = fold({ ...good, rig: { ...good.rig, lag: { valueS: 0.3, uS: 0.001, n: 50 } } })
    const shown = lagShownBy(run)
    expect(shown).toMatchObject({ uS: expect.any(Number) })
    expect(lagShownBy(told)).toEqual(shown)
  })
  test('without a seal, damaged, not finished or void shows none', () => {
    expect(lagShownBy(fold(good, false))).toEqual({ why: 'damaged or without a seal' })
    const damage = { ...run.damage, corrupt: addLine(noLines, 4) }
    expect(lagShownBy({ ...run, damage })).toEqual({ why: 'damaged or without a seal' })
    expect(lagShownBy({ ...run, end: { tUs: run.tUs, reason: 'abandoned' } })).toEqual({ why: 'not finished' })
    expect(lagShownBy(fold(shortened(findScenario('water-in-line', 2))))).toEqual({ why: 'void' })
    expect(lagShownBy(initialRun(findDecode))).toEqual({ why: 'damaged or without a seal' })
  })
})

test('a rig is the same on another port, and another with another instrument, option or pair', () => {
  const { rig } = findScenario('good', 1)
  const with_ = (manometer: object, meter: object = {}) =>
    rigMarks({ ...rig, manometer: { ...rig.manometer!, ...manometer }, meter: { ...rig.meter!, ...meter } })
  const same = rigMarks(rig)
  expect(with_({ port: { ...rig.manometer!.port, path: '/dev/ttyUSB9' } })).toBe(same)
  expect(with_({ identity: { ...rig.manometer!.identity, certificate: 'K-2', due: '2030-01-01' } })).toBe(same)
  expect(with_({ identity: { serial: 'other' } })).not.toBe(same)
  expect(with_({}, { options: { command: 'READ?', intervalMs: 1000 } })).not.toBe(same)
  expect(with_({}, { pair: 'com-nc' })).not.toBe(same)
  expect(rigMarks({ ...rig, name: 'south bench' })).not.toBe(same)
})
