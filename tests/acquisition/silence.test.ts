import { expect, test } from 'vitest'
import { createSilence } from '../../src/acquisition/silence.ts'

/** An instrument heard every `everyMs` up to `lastMs`. */
function heardEvery(everyMs: number, lastMs: number) {
  const silence = createSilence([])
  for (let atMs = 0; atMs <= lastMs; atMs += everyMs) silence.heard(atMs)
  return silence
}

test('a fast instrument is given five seconds', () => {
  const silence = heardEvery(100, 10_000)
  expect([14_000, 15_000, 15_001].map(silence.tooLong)).toEqual([false, false, true])
})

test('a slow instrument is given ten of its own intervals', () => {
  const silence = heardEvery(3000, 30_000)
  expect([59_000, 60_001].map(silence.tooLong)).toEqual([false, true])
})

test('an instrument that was never heard, or once, is waited for', () => {
  expect(createSilence([]).tooLong(1e9)).toBe(false)
  expect(heardEvery(1000, 0).tooLong(1e9)).toBe(false)
  expect(createSilence([{ bytes: '?', periodMs: 200, replyMs: 800, quietMs: 0 }]).tooLong(1e9)).toBe(false)
})

test('queries in turn are given ten of their rounds, for perhaps one alone is answered', () => {
  const query = { bytes: '?', periodMs: 200, replyMs: 800, quietMs: 0 }
  const silence = createSilence([query, query, query])
  silence.heard(0)
  expect([30_000, 30_001].map(silence.tooLong)).toEqual([false, true])
})

test('a polled instrument is given ten of its polls', () => {
  const silence = createSilence([{ bytes: '?', periodMs: 200, replyMs: 800, quietMs: 0 }])
  silence.heard(0)
  expect([10_000, 10_001].map(silence.tooLong)).toEqual([false, true])
})

test('each fruitless connection is given twice as long, up to sixteen times; the first bytes reset it', () => {
  const silence = heardEvery(100, 1000)
  silence.reconnected()
  expect([20_000, 30_000, 30_001].map(silence.tooLong)).toEqual([false, false, true])
  for (let i = 0; i < 10; i++) silence.reconnected()
  expect([100_000, 180_000, 180_001].map(silence.tooLong)).toEqual([false, false, true])
  silence.heard(200_000)
  silence.heard(200_100)
  expect([205_100, 205_101].map(silence.tooLong)).toEqual([false, true])
})

test('the gap over a lost cable is no interval', () => {
  const silence = heardEvery(100, 1000)
  silence.reconnected()
  silence.heard(61_000)
  silence.heard(61_100)
  expect(silence.tooLong(66_101)).toBe(true)
})
