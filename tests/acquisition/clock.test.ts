import { expect, test } from 'vitest'
import { createClock } from '../../src/acquisition/clock.ts'

function clockAt() {
  const at = { ns: 5_000_000_000n, wallMs: 1_000_000 }
  const clock = createClock(
    () => at.ns,
    () => at.wallMs,
  )
  const pass = (ms: number, wallMs = ms) => {
    at.ns += BigInt(ms * 1_000_000)
    at.wallMs += wallMs
  }
  return { clock, pass }
}

test('time is whole microseconds since the start', () => {
  const { clock, pass } = clockAt()
  expect(clock.nowUs()).toBe(0)
  pass(1.2345)
  expect(clock.nowUs()).toBe(1234)
})

test('a stamp is never less than the one before it', () => {
  const { clock } = clockAt()
  expect([100, 50, 120].map(clock.stampUs)).toEqual([100, 100, 120])
})

test('a sleep in which the monotonic clock was still leaves a gap of 4 s in the time, a wall clock set back none', () => {
  const { clock, pass } = clockAt()
  pass(250)
  clock.jumpS()
  pass(250, 600_250)
  expect(clock.jumpS()).toBeCloseTo(600, 6)
  expect(clock.nowUs()).toBe(4_500_000)
  pass(250, -600_000)
  expect(clock.jumpS()).toBeCloseTo(-600.25, 6)
  expect(clock.nowUs()).toBe(4_750_000)
})

test('clocks that part by more than a second are told once, with their sign', () => {
  const { clock, pass } = clockAt()
  pass(250, 1200)
  expect(clock.jumpS()).toBe(0)
  pass(250, 30_250)
  expect(clock.jumpS()).toBeCloseTo(30, 6)
  pass(250)
  expect(clock.jumpS()).toBe(0)
  pass(250, -4750)
  expect(clock.jumpS()).toBeCloseTo(-5, 6)
})
