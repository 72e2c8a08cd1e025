import { expect, test } from 'vitest'
import { goodBench } from '../../src/simulation/good-bench.ts'
import { createManometer, type ManometerTruth } from '../../src/simulation/manometer.ts'
import { createRandom } from '../../src/simulation/random.ts'
import type { Stretch } from '../../src/simulation/response.ts'
import { createSpells } from '../../src/simulation/spells.ts'

const exact: ManometerTruth = {
  ...goodBench().truth.manometer,
  jitterS: 0,
  dampingS: 0,
  gainError: 0,
  offsetPa: 0,
  noisePa: 0,
  unit: 'Pa',
  unitText: 'Pa',
  digit: 0.01,
  suctionSign: 1,
}
const still = (pressurePa: number): Stretch => ({ offsetPa: pressurePa, slopePaPerS: 0, decays: [] })

function make(change: Partial<ManometerTruth> = {}) {
  const truth = { ...exact, ...change }
  const spells = {
    holds: createSpells(truth.holds),
    unitChanges: createSpells(truth.unitChanges),
    offsetSteps: createSpells(truth.offsetSteps),
  }
  return { manometer: createManometer(truth, spells, createRandom(1)), spells }
}
const texts = (change: Partial<ManometerTruth>, stretch: Stretch, lastsS = 1) =>
  make(change)
    .manometer.follow(stretch, 0, lastsS * 1e6)
    .map((line) => line.bytes)

test('On a ramp each line shows the pressure of its own moment, and leaves later by exactly the dead time.', () => {
  const lines = make({ deadS: 0.03 }).manometer.follow({ offsetPa: 0, slopePaPerS: 10, decays: [] }, 0, 5e6)
  expect(lines).toHaveLength(50)
  for (const line of lines) {
    const sampledS = (line.readyUs - 30_000) / 1e6
    expect(Number.parseFloat(line.bytes)).toBeCloseTo(10 * sampledS, 2)
  }
})

test('Damping makes a step appear as a first-order answer, whatever pieces the time is cut into.', () => {
  const whole = make({ dampingS: 0.5, digit: 0.0001 }).manometer.follow(still(100), 0, 3e6)
  const { manometer } = make({ dampingS: 0.5, digit: 0.0001 })
  const cut = [...Array(30)].flatMap((_, i) => manometer.follow(still(100), i * 1e5, (i + 1) * 1e5))
  expect(cut).toEqual(whole)
  for (const line of whole) {
    const tS = (line.readyUs - 30_000) / 1e6
    expect(Number.parseFloat(line.bytes)).toBeCloseTo(100 * (1 - Math.exp(-tS / 0.5)), 3)
  }
})

test('Suction shows with its sign, in its unit, rounded to its digit, and zero without a sign.', () => {
  const water = { unit: 'inH2O', unitText: 'inH2O', digit: 0.001, suctionSign: -1 } as const
  // 1 inH2O = 249.08891 Pa: 25.4 mm of conventional water column, NIST SP 811 (2008), B.8.
  expect(texts(water, still(0.25 * 249.08891))[0]).toBe('-0.250 inH2O\r\n')
  expect(texts(water, still(0.1))[0]).toBe('0.000 inH2O\r\n')
  expect(texts({ digit: 0.5 }, still(12.3))[0]).toBe('12.5 Pa\r\n')
  expect(texts({ unitText: '' }, still(12.3))[0]).toBe('12.30\r\n')
})

test('Gain, offset, drift and a jump of the zero are added to the true pressure.', () => {
  expect(texts({ gainError: 0.01, offsetPa: 2 }, still(100))[0]).toBe('103.00 Pa\r\n')
  const drifting = make({ offsetDriftPaPerS: 1, deadS: 0 }).manometer.follow(still(0), 0, 60e6)
  for (const line of drifting) expect(Number.parseFloat(line.bytes)).toBeCloseTo(line.readyUs / 1e6, 2)
  const jumping = make({ offsetSteps: [{ stroke: 1, afterS: 1, forS: null, offsetPa: 2.5 }] })
  jumping.spells.offsetSteps.strokeStarted(1, 0)
  const jumped = jumping.manometer.follow(still(10), 0, 2e6).map((line) => line.bytes)
  expect([...new Set(jumped)]).toEqual(['10.00 Pa\r\n', '12.50 Pa\r\n'])
})

test('A slow display repeats its value line by line; beyond its range it says OL.', () => {
  const lines = texts({ linesPerRefresh: 5 }, { offsetPa: 0, slopePaPerS: 10, decays: [] }, 2)
  expect(lines).toHaveLength(20)
  for (let i = 0; i < 20; i++) expect(lines[i]).toBe(lines[i - (i % 5)])
  expect(new Set(lines).size).toBe(4)
  expect(texts({ overRangePa: 50 }, still(60))[0]).toBe('OL Pa\r\n')
})

test('A display on hold stands still, with or without saying so; a change of unit changes number and text.', () => {
  const { manometer, spells } = make({
    holds: [{ stroke: 1, afterS: 1, forS: 1, flag: true }],
    unitChanges: [{ stroke: 1, afterS: 3, forS: null, unit: 'hPa', unitText: 'hPa', digit: 0.001 }],
  })
  spells.holds.strokeStarted(1, 0)
  spells.unitChanges.strokeStarted(1, 0)
  const lines = manometer.follow({ offsetPa: 0, slopePaPerS: 10, decays: [] }, 0, 4e6).map((line) => line.bytes)
  expect(new Set(lines.slice(10, 20))).toEqual(new Set([lines[9]!.replace('\r', ' HOLD\r')]))
  expect(lines[25]).toMatch(/ Pa\r\n$/)
  expect(lines[35]).toMatch(/^0\.3\d\d hPa\r\n$/)
})
