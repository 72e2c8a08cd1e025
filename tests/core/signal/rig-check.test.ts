// What the readings of a manometer prove while a rig is set up: noise, sign, damping, each from made-up readings with known truth.
import { describe, expect, test } from 'vitest'
import { checkRig } from '../../../src/core/signal/rig-check.ts'

/** Readings every 0.1 s of `pa(tS)`, with a noise of ±`noisePa` that alternates. */
const readings = (seconds: number, pa: (tS: number) => number, noisePa = 0.1) =>
  Array.from({ length: seconds * 10 }, (_, i) => ({
    tUs: i * 1e5,
    pressurePa: pa(i / 10) + (i % 2 === 0 ? noisePa : -noisePa),
  }))

describe('a manometer that is set up', () => {
  test('without readings, or not at rest yet, proves nothing and says what to do', () => {
    expect(checkRig([], 0, 0)).toMatchObject({ rest: null, sign: null, step: null })
    expect(checkRig([], 0, 0).next).toContain('Waiting')
    const moving = checkRig(
      readings(10, (t) => 10 * t),
      0,
      0.1,
    )
    expect(moving.rest).toBeNull()
    expect(moving.next).toMatch(/^It moves: .*keep still/)
    // 4 s at 10 Pa/s; the noise is the same at both ends.
    expect(moving.movesPa).toBeCloseTo(40, 6)
    const early = checkRig(
      readings(3, () => 0),
      0,
      0.1,
    )
    expect(early.movesPa).toBeNull()
    expect(early.next).toMatch(/^Leave .*keep still/)
  })
  test('at rest shows its noise and where its zero stands', () => {
    const { rest, sign, next } = checkRig(
      readings(6, () => 1.5),
      0,
      0.01,
    )
    expect(rest!.meanPa).toBeCloseTo(1.5, 6)
    // ±0.1 in turn, 40 readings: 0.1·√(40/39).
    expect(rest!.noisePa).toBeCloseTo(0.1 * Math.sqrt(40 / 39), 6)
    expect(sign).toBeNull()
    expect(next).toContain('Pull the syringe')
  })
  test('whose digits hide the noise has at least that of its digit', () => {
    expect(
      checkRig(
        readings(6, () => 0, 0),
        0,
        1,
      ).rest!.noisePa,
    ).toBeCloseTo(1 / Math.sqrt(12), 9)
  })
  test.each([
    [1, 1],
    [-1, -1],
  ] as const)('shows a pull as a number of sign %s', (direction, value) => {
    const { sign } = checkRig(
      readings(10, (t) => (t < 6 ? 0 : direction * 5 * (t - 6))),
      0,
      0.01,
    )
    expect(sign!.value).toBe(value)
    expect(Math.sign(sign!.movedPa)).toBe(value)
  })
  test('is not taken in by one reading that leaps', () => {
    const leap = readings(10, () => 0)
    leap[80] = { ...leap[80]!, pressurePa: 50 }
    expect(checkRig(leap, 0, 0.01).sign).toBeNull()
  })
  test('let go at once shows its damping, and then all is measured', () => {
    const pull = (t: number) => (t < 6 ? 0 : t < 10 ? -10 * (t - 6) : t < 14 ? -40 : -40 * Math.exp(-(t - 14) / 0.4))
    const { step, next } = checkRig(readings(20, pull, 0.05), 0, 0.01)
    expect(Math.abs(step!.tauS - 0.4)).toBeLessThan(0.05)
    expect(next).toContain('All is measured')
  })
  test('measured again forgets what came before', () => {
    const { sign, next } = checkRig(
      readings(20, (t) => (t > 6 && t < 10 ? -20 : 0)),
      12e6,
      0.01,
    )
    expect(sign).toBeNull()
    expect(next).toContain('Pull')
  })
})
