import { expect, test } from 'vitest'
import { lateVar, unevenUs } from '../../../src/core/signal/late-lines.ts'
import { trackRows } from '../../harness/pressure-rows.ts'

/** A ramp of 20 Pa/s, ten readings a second, every `each`-th of them late by `lateUs`. */
const ramp = (count: number, each: number, lateUs: number) =>
  trackRows(
    Array.from({ length: count }, (_, i) => ({
      tUs: i * 100_000 + (i % each === 0 ? lateUs : 0),
      pressurePa: 2 * i,
    })),
  )

test('lines on their beat leave nothing open', () => {
  expect(unevenUs(ramp(300, 1, 0))).toBe(0)
  expect(unevenUs(ramp(300, 3, 900))).toBe(0)
})

test('the lateness that nearly all steps stay within is told, rounded up by less than a half', () => {
  const uneven = unevenUs(ramp(300, 4, 30_000))
  expect(uneven).toBeGreaterThanOrEqual(30_000)
  expect(uneven).toBeLessThan(1.5 * 30_000)
})

test('one line in a hundred says nothing of the others', () => {
  expect(unevenUs(ramp(300, 100, 80_000))).toBe(0)
})

test('two readings and fewer tell nothing', () => {
  expect([0, 1, 2].map((count) => unevenUs(ramp(count, 1, 0)))).toEqual([0, 0, 0])
})

test('a reading late by up to 30 ms on a ramp of 20 Pa/s is uncertain by the rectangle of 0.6 Pa (JCGM 100:2008, 4.3.7)', () => {
  expect(Math.sqrt(lateVar(ramp(100, 1, 0), 5e6, 30_000))).toBeCloseTo(0.6 / Math.sqrt(3), 6)
  expect(lateVar(ramp(100, 1, 0), 5e6, 0)).toBe(0)
})
