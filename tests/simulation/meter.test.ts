import { expect, test } from 'vitest'
import { goodBench } from '../../src/simulation/good-bench.ts'
import { createMeter, type MeterTruth } from '../../src/simulation/meter.ts'
import { createRandom } from '../../src/simulation/random.ts'

const exact: MeterTruth = { ...goodBench().truth.meter, noiseOhm: 0, delayS: 0.04 }
const open = { ohm: Number.POSITIVE_INFINITY, sinceUs: 0 }
/** Open until 1 s, then 0.5 ohm. */
const closing = (timeUs: number) => (timeUs < 1e6 ? open : { ohm: 0.5, sinceUs: 1e6 })
const make = (change: Partial<MeterTruth> = {}) => createMeter({ ...exact, ...change }, closing, createRandom(1))

// NR3 and 9.9E37 for over-range: IEEE 488.2 § 8.7.4 and SCPI-1999 vol. 1 § 7.2 (from memory).
test('A query is answered with the value at its arrival, later by exactly the delay.', () => {
  const meter = make()
  expect(meter.ask('READ?\n', 999_999)).toEqual([{ readyUs: 1_039_999, bytes: '+9.90000E+37\n' }])
  expect(meter.ask('READ?\n', 1_000_000)).toEqual([{ readyUs: 1_040_000, bytes: '+5.00000E-01\n' }])
})

test('A query may come in pieces; what is no query is not answered; noise without end is forgotten.', () => {
  const meter = make()
  expect(meter.ask('REA', 1e6)).toEqual([])
  expect(meter.ask('D?\n', 1e6)).toHaveLength(1)
  expect(meter.ask('*RST\n', 1e6)).toEqual([])
  for (let i = 0; i < 100; i++) meter.ask('x'.repeat(1000), 1e6)
  expect(meter.ask('\nREAD?\n', 1e6)).toHaveLength(1)
})

test('A free-running meter sends each period by itself and answers no query.', () => {
  const meter = make({ freeRunPeriodS: 0.25, format: 'unit' })
  const lines = [...meter.runTo(1e6), ...meter.runTo(3e6)]
  expect(lines).toHaveLength(12)
  for (let i = 1; i < lines.length; i++) expect(lines[i]!.readyUs - lines[i - 1]!.readyUs).toBe(250_000)
  expect(lines[0]!.bytes).toBe('OL ohm\r\n')
  expect(lines.at(-1)!.bytes).toBe('0.50 ohm\r\n')
  expect(meter.ask('READ?\n', 3e6)).toEqual([])
})

test('An auto-ranging meter stays over-range after a closing, and only then.', () => {
  const meter = make({ autoRangeS: { from: 0.9, to: 0.9 } })
  expect(meter.ask('READ?\n', 1_890_000)[0]!.bytes).toBe('+9.90000E+37\n')
  expect(meter.ask('READ?\n', 1_910_000)[0]!.bytes).toBe('+5.00000E-01\n')
  expect(make({ rangeOhm: 0.4 }).ask('READ?\n', 2e6)[0]!.bytes).toBe('+9.90000E+37\n')
})

test('A hunt takes its own time at each closing, between the two that are stated.', () => {
  const hunts = Array.from({ length: 40 }, (_, seed) => {
    const meter = createMeter({ ...exact, autoRangeS: { from: 0.3, to: 2 } }, closing, createRandom(seed))
    for (let timeUs = 1e6; ; timeUs += 10_000)
      if (!meter.ask('READ?\n', timeUs)[0]!.bytes.includes('E+37')) return (timeUs - 1e6) / 1e6
  })
  expect(Math.min(...hunts)).toBeGreaterThanOrEqual(0.3)
  expect(Math.max(...hunts)).toBeLessThanOrEqual(2.01)
  expect(Math.max(...hunts) - Math.min(...hunts)).toBeGreaterThan(1)
})

test('A meter that integrates shows the mean across an edge: neither open nor closed.', () => {
  const meter = make({ integrationS: 0.2 })
  expect(meter.ask('READ?\n', 1e6 + 250_000)[0]!.bytes).toBe('+5.00000E-01\n')
  const across = Number(meter.ask('READ?\n', 1e6 + 150_000)[0]!.bytes)
  expect(across).toBeGreaterThan(100)
  expect(across).toBeLessThan(2000)
})

test('Open leads pick up a value now and then, never a closed contact.', () => {
  const meter = make({ openNoise: { share: 0.3, fromOhm: 3000 } })
  const read = (timeUs: number) => Number(meter.ask('READ?\n', timeUs)[0]!.bytes)
  const open = Array.from({ length: 200 }, (_, i) => read(i * 1000))
  expect(open.filter((ohm) => ohm < 1e6).length).toBeGreaterThan(30)
  expect(Math.min(...open)).toBeGreaterThanOrEqual(3000)
  expect(read(2e6)).toBe(0.5)
})
