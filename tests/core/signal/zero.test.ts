import { describe, expect, test } from 'vitest'
import { zeroAt, findZero as zeroOf } from '../../../src/core/signal/zero.ts'
import { createRandom } from '../../harness/foreign-recording.ts'
import { rawRows } from '../../harness/pressure-rows.ts'

const ratedPa = 62.3
const digitPa = 0.249

type Sample = { tUs: number; rawPa: number }

const findZero = (samples: readonly Sample[], ...rest: Rest) => zeroOf(rawRows(samples), ...rest)
type Rest = [zeroMarksUs: number[], digitPa: number, ratedPa: number, finished: boolean]

/** Rest, one stroke, rest; ten readings a second; `zeroPa` gives the true zero at a time. */
function session(zeroPa: (tS: number) => number, noisePa: number, digit: number, seed = 1): Sample[] {
  const random = createRandom(seed)
  const hand = (tS: number) => {
    if (tS < 15 || tS > 75) return 0
    return tS < 45 ? (tS - 15) * 2.6 : (75 - tS) * 2.6
  }
  return Array.from({ length: 900 }, (_, i) => {
    const tS = 0.05 + i / 10
    const p = hand(tS) + zeroPa(tS) + noisePa * random.normal()
    return { tUs: tS * 1e6, rawPa: Math.round(p / digit) * digit }
  })
}

describe('Without marks the rests before the first and after the last stroke are the zero:', () => {
  test.each([
    ['quiet and fine', 0.01, 0.01],
    ['noisy', 0.4, 0.01],
    ['quiet behind a coarse digit', 0.02, 0.249],
    ['noisy behind a coarse digit', 0.3, 0.249],
  ])('%s', (_, noisePa, digit) => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const zero = findZero(
        session((tS) => 1.3 + 0.005 * tS, noisePa, digit, seed),
        [],
        digit,
        ratedPa,
        true,
      )
      // Ten seconds each: a mean of a hundred readings, and what a digit hides.
      const allowedPa = (4 * noisePa) / 10 + digit / 2 + 0.02
      expect(Math.abs(zero.before!.meanPa - (1.3 + 0.005 * 5))).toBeLessThan(allowedPa)
      expect(Math.abs(zero.after!.meanPa - (1.3 + 0.005 * 85))).toBeLessThan(allowedPa)
      expect(zero.noisePa).toBeGreaterThanOrEqual(digit / Math.sqrt(12))
      expect(zero.noisePa).toBeLessThan(1.5 * Math.hypot(noisePa, digit / Math.sqrt(12)) + 0.03)
    }
  })

  test('at most ten seconds of each', () => {
    const zero = findZero(
      session(() => 0, 0.02, 0.01),
      [],
      0.01,
      ratedPa,
      true,
    )
    expect(zero.before!.n).toBeLessThanOrEqual(101)
    expect(zero.before!.tUs).toBeCloseTo(5.05e6, -5)
    expect(zero.after!.tUs).toBeCloseTo(84.95e6, -5)
  })

  test('and while the session runs there is no rest at its end yet', () => {
    expect(
      findZero(
        session(() => 0, 0.02, 0.01),
        [],
        0.01,
        ratedPa,
        false,
      ).after,
    ).toBeNull()
  })
})

describe('With marks', () => {
  const samples = session((tS) => (tS < 3 ? 5 : 1), 0.05, digitPa)

  test('the zero begins one second after the mark, so that what came before is no part of it', () => {
    const zero = findZero(samples, [2.5e6, 77e6], digitPa, ratedPa, true)
    expect(zero.before!.meanPa).toBeCloseTo(1, 0)
    expect(zero.before!.tUs).toBeGreaterThan(3.5e6)
    expect(zero.after!.tUs).toBeGreaterThan(78e6)
    expect(zero.after!.n).toBeGreaterThan(90)
  })

  test('it ends where the pressure moves by more than 3 × the noise', () => {
    const zero = findZero(samples, [8e6], digitPa, ratedPa, false)
    expect(zero.before!.n).toBeGreaterThan(55)
    expect(zero.before!.n).toBeLessThan(65)
    expect(Math.abs(zero.before!.meanPa - 1)).toBeLessThan(0.15)
  })

  test('a stroke that begins as soon as it does is no part of it and no noise', () => {
    const random = createRandom(2)
    for (const digit of [0.01, 0.249]) {
      const soon = Array.from({ length: 1200 }, (_, i) => {
        const tS = i / 20
        // Five readings, then 8 Pa/s; rest again from 30 s on.
        const p = tS < 2.05 || tS > 30 ? 0 : Math.min(70, 8 * (tS - 2.05))
        return { tUs: tS * 1e6, rawPa: Math.round((p + 0.2 + 0.1 * random.normal()) / digit) * digit }
      })
      const zero = findZero(soon, [0.8e6], digit, ratedPa, true)
      expect(Math.abs(zero.before!.meanPa - 0.2)).toBeLessThan(0.2)
      // So short a stretch behind its mark is no rest: the one that the readings begin with is, up to the stroke.
      expect(zero.before!.tUs).toBeLessThan(2.05e6)
      expect(zero.before!.n).toBeLessThan(45)
      expect(zero.noisePa).toBeLessThan(0.25)
    }
  })

  test('the first and the last count, and a single spike within is passed over', () => {
    const spiky = samples.map((s, i) => (i === 60 ? { ...s, rawPa: 400 } : s))
    const zero = findZero(spiky, [3e6, 40e6, 77e6], digitPa, ratedPa, true)
    expect(zero.before!.n).toBeGreaterThan(90)
    expect(Math.abs(zero.before!.meanPa - 1)).toBeLessThan(0.15)
    expect(zero.after!.tUs).toBeGreaterThan(78e6)
  })
})

test('A manometer that is under vacuum from the first reading on gives no zero.', () => {
  const held = Array.from({ length: 100 }, (_, i) => ({ tUs: i * 1e5, rawPa: 60 }))
  expect(findZero(held, [], digitPa, ratedPa, true).before).toBeNull()
  expect(findZero([], [], digitPa, ratedPa, true)).toEqual({
    before: null,
    after: null,
    noisePa: digitPa / Math.sqrt(12),
    vents: { knots: null, scatterPa: 0, jumps: [] },
  })
})

test('The zero is linear between its two rests, flat outside, one alone holds everywhere, none is nought.', () => {
  const rest = (tUs: number, meanPa: number) => ({ tUs, meanPa, sdPa: 0, n: 10 })
  const both = { before: rest(10, 1), after: rest(30, 2), noisePa: 0.1 }
  expect([0, 10, 15, 30, 99].map((t) => zeroAt(both, t))).toEqual([1, 1, 1.25, 2, 2])
  expect(zeroAt({ ...both, after: null }, 99)).toBe(1)
  expect(zeroAt({ ...both, before: null }, 0)).toBe(2)
  expect(zeroAt({ before: null, after: null, noisePa: 0 }, 5)).toBe(0)
})
