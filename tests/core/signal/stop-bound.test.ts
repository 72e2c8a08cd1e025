import { describe, expect, test } from 'vitest'
import { findStrokes } from '../../../src/core/intake/stroke-tracker.ts'
import { stopBound } from '../../../src/core/signal/stop-bound.ts'
import { trackRows } from '../../harness/pressure-rows.ts'

const ratedPa = 62.3
const sizes = { noisePa: 0.01, digitPa: 0.01, ratedPa }
/** Pace of the hand, Pa/s, and for how long, s: quick, slow, quick to the peak, a hold; and the same down. */
const usual: [number, number][] = [
  [0, 2],
  [6, 8],
  [1.2, 10],
  [6, 3],
  [0, 4],
  [-6, 3],
  [-1.2, 10],
  [-6, 8],
  [0, 2],
]

type Display = {
  upS?: number
  downS?: number
  averageS?: number
  everyS?: number
  hand?: [number, number][]
  kickPa?: number
  kickS?: number
}

/** One stroke behind a display of the first order up and down, that then averages over so long; a kick takes `kickPa` at `kickS`. */
function strokeBehind({ averageS = 0, everyS = 0.1, hand = usual, kickPa = 0, kickS = 15, ...damping }: Display) {
  const { upS = 0, downS = upS } = damping
  const stepS = 0.005
  const held: number[] = []
  const rows: { tUs: number; pressurePa: number }[] = []
  let [atS, tee, shown, sum, last] = [0, 0, 0, 0, Number.NEGATIVE_INFINITY]
  for (const [paPerS, forS] of hand)
    for (let i = 0; i < forS / stepS; i++) {
      atS += stepS
      tee = Math.max(0, tee + paPerS * stepS)
      const felt = tee - (atS > kickS ? kickPa : 0)
      const tauS = felt > shown ? upS : downS
      shown = tauS === 0 ? felt : shown + ((felt - shown) * stepS) / tauS
      held.push(shown)
      const n = Math.max(1, Math.round(averageS / stepS))
      sum += shown - (held.at(-1 - n) ?? 0)
      if (atS - last < everyS) continue
      last = atS
      rows.push({ tUs: Math.round(atS * 1e6), pressurePa: sum / n })
    }
  const readings = trackRows(rows)
  const [stroke] = findStrokes(readings, ratedPa).strokes
  return (way: 1 | -1, edges: { loUs: number; hiUs: number }[] = []) => stopBound(readings, stroke!, way, edges, sizes)
}

describe('Where a quick hand slows down, the damping is at most what the display shows of it:', () => {
  test.each([0, 0.1, 0.35, 1, 2])('%d s both ways', (upS) => {
    for (const everyS of [0.05, 0.1, 0.4]) {
      const bound = strokeBehind({ upS, everyS })
      for (const way of [1, -1] as const) {
        expect(bound(way).dampingS).toBeGreaterThanOrEqual(upS)
        expect(bound(way).dampingS).toBeLessThan(1.7 * upS + 2 * everyS + 0.15)
      }
    }
  })

  // A vent once spoke for the rise too: a part 1 Pa above its limit passed behind a display that was quick only down.
  test('each way tells of its own', () => {
    const slowUp = strokeBehind({ upS: 2, downS: 0.1 })
    expect(slowUp(1).dampingS).toBeGreaterThanOrEqual(2)
    expect(slowUp(-1).dampingS).toBeLessThan(0.5)
  })
})

test.each([0.5, 1, 2, 3])(
  'A display that averages over %d s is not taken for a quicker one, nor is the end of its mean.',
  (averageS) => {
    for (const way of [1, -1] as const) {
      const bound = strokeBehind({ averageS })(way)
      expect(bound.averageS).toBeGreaterThanOrEqual(averageS)
      expect(bound.dampingS).toBeGreaterThan(0.4 * averageS)
    }
  },
)

test('A hand that turns back, or never stops, bounds nothing, and no more does an even slow ramp.', () => {
  const open = { dampingS: Number.POSITIVE_INFINITY, averageS: Number.POSITIVE_INFINITY }
  // Behind 2 s the display turns long after the hand, and slows down before.
  expect(
    strokeBehind({
      upS: 2,
      hand: [
        [0, 2],
        [6, 12],
        [-6, 12],
        [0, 2],
      ],
    })(1).dampingS,
  ).toBeGreaterThanOrEqual(2)
  const even = strokeBehind({
    hand: [
      [0, 2],
      [1.2, 60],
      [0, 3],
      [-1.2, 60],
      [0, 2],
    ],
  })
  expect([even(1), even(-1)]).toEqual([open, open])
})

test('A kick moves the tee against the hand: where a contact changed nothing is a stop.', () => {
  const hand: [number, number][] = [
    [0, 2],
    [3, 26],
    [0, 4],
    [-1.2, 70],
    [0, 2],
  ]
  const bound = strokeBehind({ upS: 2, hand, kickPa: 5, kickS: 20 })
  expect(bound(1).dampingS).toBeLessThan(2)
  expect(bound(1, [{ loUs: 20.3e6, hiUs: 20.5e6 }]).dampingS).toBeGreaterThanOrEqual(2)
})

test('Near rest no fall counts: there a display may leap to its zero.', () => {
  const vented: [number, number][] = [
    [0, 2],
    [6, 12],
    [-24, 3],
    [0, 10],
  ]
  expect(strokeBehind({ hand: vented })(-1).dampingS).toBe(Number.POSITIVE_INFINITY)
})
