import { expect, test } from 'vitest'
import { goodBench } from '../../src/simulation/good-bench.ts'
import { createManometer, type Line, type ManometerTruth } from '../../src/simulation/manometer.ts'
import { createRandom } from '../../src/simulation/random.ts'
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
type Pressure = (timeS: number) => number
const still =
  (pressurePa: number): Pressure =>
  () =>
    pressurePa
const ramp: Pressure = (timeS) => 10 * timeS

function make(change: Partial<ManometerTruth> = {}) {
  const truth = { ...exact, ...change }
  const spells = {
    holds: createSpells(truth.holds),
    unitChanges: createSpells(truth.unitChanges),
    offsetSteps: createSpells(truth.offsetSteps),
  }
  const manometer = createManometer(truth, spells, createRandom(1))
  /** Follows the pressure in steps of a millisecond. */
  const follow = (pressure: Pressure, fromS: number, toS: number): Line[] => {
    const lines: Line[] = []
    for (let ms = Math.round(fromS * 1000); ms < Math.round(toS * 1000); ms++)
      lines.push(...manometer.follow(pressure(ms / 1000), pressure((ms + 1) / 1000), ms * 1000, (ms + 1) * 1000))
    return lines
  }
  return { manometer, spells, follow }
}
const texts = (change: Partial<ManometerTruth>, pressure: Pressure, lastsS = 1) =>
  make(change)
    .follow(pressure, 0, lastsS)
    .map((line) => line.bytes)

test('On a ramp each line shows the pressure of its own moment, and leaves later by exactly the dead time.', () => {
  const lines = make({ deadS: 0.03 }).follow(ramp, 0, 5)
  expect(lines).toHaveLength(50)
  for (const line of lines) {
    const sampledS = (line.readyUs - 30_000) / 1e6
    expect(Number.parseFloat(line.bytes)).toBeCloseTo(10 * sampledS, 2)
  }
})

test('Damping makes a step appear as a first-order answer.', () => {
  const lines = make({ dampingS: 0.5, digit: 0.0001 }).follow(still(100), 0, 3)
  expect(lines).toHaveLength(30)
  for (const line of lines) {
    const tS = (line.readyUs - 30_000) / 1e6
    expect(Number.parseFloat(line.bytes)).toBeCloseTo(100 * (1 - Math.exp(-tS / 0.5)), 3)
  }
})

test('A boxcar shows the mean over its time: half of it late on a ramp, and a step rises in a straight line.', () => {
  for (const line of make({ boxcarS: 1, digit: 0.0001 }).follow(ramp, 0, 5).slice(12))
    expect(Number.parseFloat(line.bytes)).toBeCloseTo(10 * ((line.readyUs - 30_000) / 1e6 - 0.5), 2)
  for (const line of make({ boxcarS: 1, digit: 0.0001 }).follow(still(100), 0, 3))
    expect(Number.parseFloat(line.bytes)).toBeCloseTo(100 * Math.min(1, (line.readyUs - 30_000) / 1e6), 0)
})

test('It reads low on the rise and high on the fall where it has hysteresis, and right at both ends.', () => {
  const there: Pressure = (timeS) => (timeS < 10 ? 10 * timeS : 200 - 10 * timeS)
  const lines = make({ hysteresis: { halfPa: 2, spanPa: 100 }, digit: 0.001, deadS: 0 }).follow(there, 0, 20)
  const errorAt = (timeS: number) => {
    const line = lines.find((l) => l.readyUs >= timeS * 1e6)!
    return Number.parseFloat(line.bytes) - there(line.readyUs / 1e6)
  }
  expect(errorAt(5)).toBeCloseTo(-2, 2)
  expect(errorAt(15)).toBeCloseTo(2, 2)
  expect(Math.abs(errorAt(9.95))).toBeLessThan(0.1)
  expect(Math.abs(errorAt(19.8))).toBeLessThan(0.2)
})

test('Between two points of its certificate it may be off by a bow; at each vent its zero jumps and comes back.', () => {
  const bow = { heightPa: 3, fromPa: 0, toPa: 100 }
  expect([0, 50, 100].map((pressurePa) => texts({ bow }, still(pressurePa))[0])).toEqual(
    [0, 53, 100].map((shown) => `${shown.toFixed(2)} Pa\r\n`),
  )
  const { manometer, follow } = make({ zeroBump: { offsetPa: 1.5, tauS: 2 }, deadS: 0 })
  manometer.vented(1e6)
  for (const line of follow(still(0), 0, 9)) {
    const tS = line.readyUs / 1e6 - 1
    expect(Number.parseFloat(line.bytes)).toBeCloseTo(tS < 0 ? 0 : 1.5 * Math.exp(-tS / 2), 1)
  }
})

test('While it zeroes itself it sends nothing, and comes back with another zero.', () => {
  const lines = make({ autoZero: { everyS: 5, forS: 1, stepPa: 0.5 } }).follow(still(10), 0, 40)
  const gaps = lines.filter((line, i) => i > 0 && line.readyUs - lines[i - 1]!.readyUs > 0.9e6)
  expect(gaps.length).toBeGreaterThanOrEqual(7)
  // Two of its zeros may show alike.
  expect(new Set(lines.map((line) => line.bytes)).size).toBeGreaterThanOrEqual(gaps.length - 1)
})

test('A display that is held does not move until its time is over.', () => {
  const { manometer, follow } = make()
  const before = follow(ramp, 0, 1).at(-1)!.bytes
  manometer.hold(2e6)
  const lines = follow(ramp, 1, 3).map((line) => line.bytes)
  expect(new Set(lines.slice(0, 10))).toEqual(new Set([before]))
  expect(new Set(lines.slice(10)).size).toBe(lines.length - 10)
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
  const drifting = make({ offsetDriftPaPerS: 1, deadS: 0 }).follow(still(0), 0, 60)
  for (const line of drifting) expect(Number.parseFloat(line.bytes)).toBeCloseTo(line.readyUs / 1e6, 2)
  const jumping = make({ offsetSteps: [{ stroke: 1, afterS: 1, forS: null, offsetPa: 2.5 }] })
  jumping.spells.offsetSteps.strokeStarted(1, 0)
  const jumped = jumping.follow(still(10), 0, 2).map((line) => line.bytes)
  expect([...new Set(jumped)]).toEqual(['10.00 Pa\r\n', '12.50 Pa\r\n'])
})

test('A slow display repeats its value line by line; beyond its range it says OL.', () => {
  const lines = texts({ linesPerRefresh: 5 }, ramp, 2)
  expect(lines).toHaveLength(20)
  for (let i = 0; i < 20; i++) expect(lines[i]).toBe(lines[i - (i % 5)])
  expect(new Set(lines).size).toBe(4)
  expect(texts({ overRangePa: 50 }, still(60))[0]).toBe('OL Pa\r\n')
})

test('A display on hold stands still, with or without saying so; a change of unit changes number and text.', () => {
  const { follow, spells } = make({
    holds: [{ stroke: 1, afterS: 1, forS: 1, flag: true }],
    unitChanges: [{ stroke: 1, afterS: 3, forS: null, unit: 'hPa', unitText: 'hPa', digit: 0.001 }],
  })
  spells.holds.strokeStarted(1, 0)
  spells.unitChanges.strokeStarted(1, 0)
  const lines = follow(ramp, 0, 4).map((line) => line.bytes)
  expect(new Set(lines.slice(10, 20))).toEqual(new Set([lines[9]!.replace('\r', ' HOLD\r')]))
  expect(lines[25]).toMatch(/ Pa\r\n$/)
  expect(lines[35]).toMatch(/^0\.3\d\d hPa\r\n$/)
})
