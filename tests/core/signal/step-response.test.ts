// A pressure that is let go at once, as a display of known damping shows it: an exact exponential, worked out here.
import { expect, test } from 'vitest'
import { stepResponse } from '../../../src/core/signal/step-response.ts'

/** Held at `levelPa` for 5 s above `restPa`, then let go: an exponential of `tauS`, read every `intervalS`. */
function letGo(levelPa: number, restPa: number, tauS: number, intervalS: number) {
  return Array.from({ length: Math.round(12 / intervalS) }, (_, i) => {
    const tS = i * intervalS
    const shown = tS < 5 ? levelPa : levelPa * Math.exp(-(tS - 5) / tauS)
    return { tUs: tS * 1e6, pressurePa: restPa + shown }
  })
}

test.each([
  [0.5, 0.05, 60],
  [0.3, 0.1, -60],
  [0.8, 0.2, -25],
])('a damping of %s s, read every %s s from %s Pa, is found to within a reading', (tauS, intervalS, levelPa) => {
  const found = stepResponse(letGo(levelPa, 0.4, tauS, intervalS), 0.4, 5)
  expect(Math.abs(found!.tauS - tauS)).toBeLessThan(intervalS / 2)
  expect(found!.fromPa).toBeCloseTo(levelPa, 6)
  expect(found!.intervalS).toBeCloseTo(intervalS, 6)
})

test('an undamped display falls within one reading', () => {
  const found = stepResponse(letGo(60, 0, 0.001, 0.1), 0, 5)
  expect(found!.tauS).toBeLessThan(0.1)
})

test('what is let down by hand, was not held, or is too small is no step', () => {
  expect(stepResponse(letGo(60, 0, 2.5, 0.1), 0, 5)).toBeNull()
  expect(stepResponse(letGo(4, 0, 0.3, 0.1), 0, 5)).toBeNull()
  const peak = Array.from({ length: 100 }, (_, i) => ({
    tUs: i * 1e5,
    pressurePa: Math.max(0, 50 - 10 * Math.abs(i - 50)),
  }))
  expect(stepResponse(peak, 0, 5)).toBeNull()
  expect(stepResponse([], 0, 5)).toBeNull()
})
