import { expect, test } from 'vitest'
import { createLinkDelays, createStalls, type LinkTruth } from '../../src/simulation/link-delays.ts'
import { createRandom } from '../../src/simulation/random.ts'
import type { Arrival } from '../../src/simulation/wire-time.ts'

const none: LinkTruth = { port: 'meter', timerS: 0, clumps: null, heldBack: false }
const lines: Arrival[] = Array.from({ length: 200 }, (_, i) => ({ timeUs: 100_000 * (i + 1), bytes: `${i}\r\n` }))

function passed(change: Partial<LinkTruth> | null, stalls = createStalls(null, createRandom(1))) {
  const delays = createLinkDelays(change && { ...none, ...change }, stalls, createRandom(1))
  return lines.flatMap((line) => delays.pass(line))
}

test('Without anything in its way each line comes when it is there.', () => {
  expect(passed(null)).toEqual(lines)
  expect(passed({})).toEqual(lines)
})

test('An adapter hands over at the ticks of its timer: later by less than one period, never earlier.', () => {
  const timed = passed({ timerS: 0.016 })
  const lateUs = timed.map((got, i) => got.timeUs - lines[i]!.timeUs)
  expect(Math.min(...lateUs)).toBeGreaterThanOrEqual(0)
  expect(Math.max(...lateUs)).toBeLessThanOrEqual(16_001)
  const [first, ...rest] = timed as [Arrival, ...Arrival[]]
  for (const got of rest) expect(((got.timeUs - first.timeUs) % 16_000) % 16_000).toBeLessThanOrEqual(16_000)
  expect(new Set(rest.map((got) => Math.round((got.timeUs - first.timeUs) / 4) % 4000)).size).toBe(1)
})

test('In clumps several lines come at one moment, in order, none lost.', () => {
  const clumped = passed({ clumps: { everyS: 1, jitterS: 0.1 } })
  expect(clumped.map((got) => got.bytes)).toEqual(lines.map((line) => line.bytes))
  expect(new Set(clumped.map((got) => got.timeUs)).size).toBeLessThan(30)
  for (const [i, got] of clumped.entries()) expect(got.timeUs).toBeGreaterThanOrEqual(lines[i]!.timeUs)
})

test('A line that is held back comes with the arrival of the next one.', () => {
  const held = passed({ heldBack: true })
  expect(held).toHaveLength(lines.length - 1)
  for (const [i, got] of held.entries()) expect(got).toEqual({ bytes: lines[i]!.bytes, timeUs: lines[i + 1]!.timeUs })
})

test('A machine that stalls hands over what came meanwhile when it is back, for all ports alike.', () => {
  const stalls = createStalls({ everyS: 3, fromS: 0.5, toS: 1 }, createRandom(2))
  const stalled = passed({}, stalls)
  const lateUs = stalled.map((got, i) => got.timeUs - lines[i]!.timeUs)
  expect(Math.max(...lateUs)).toBeGreaterThan(400_000)
  expect(Math.max(...lateUs)).toBeLessThanOrEqual(1_000_000)
  expect(lateUs.filter((late) => late === 0).length).toBeGreaterThan(100)
  for (const { timeUs } of stalled) expect(stalls.over(timeUs)).toBe(timeUs)
})
