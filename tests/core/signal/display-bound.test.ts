import { describe, expect, test } from 'vitest'
import { findStrokes } from '../../../src/core/intake/stroke-tracker.ts'
import { displayBound, mostLateS } from '../../../src/core/signal/display-bound.ts'
import { trackRows } from '../../harness/pressure-rows.ts'

const ratedPa = 62.3
const digitPa = 0.01

/** Strokes up to 78 Pa, each let go with a time constant of its own, behind a display with a damping that sends each reading so often. */
function vents(count: number, tauS: number, letGoS: number, everyS: number, floorPa = 0, linesEach = 1) {
  return boundOf(count, tauS, letGoS, everyS, floorPa, linesEach).dampingS
}

/** The same, of all; the display may average over `averageS` too. */
function boundOf(
  count: number,
  tauS: number,
  letGoS: number,
  everyS: number,
  floorPa = 0,
  linesEach = 1,
  averageS = 0,
  cutOffPa = 0,
) {
  const held: number[] = []
  let sum = 0
  let [tee, shown] = [0, 0]
  const track: { tUs: number; pressurePa: number }[] = []
  const stepS = 0.001
  const perLine = Math.round(everyS / stepS)
  let reading = 0
  for (let i = 0; i < count * 20_000; i++) {
    const tS = (i * stepS) % 20
    if (tS < 2) tee = 0
    else if (tS < 10) tee = (78 * (tS - 2)) / 8
    else tee = floorPa + (tee - floorPa) * Math.exp(-stepS / letGoS)
    shown = tauS === 0 ? tee : shown + (tee - shown) * (1 - Math.exp(-stepS / tauS))
    if (averageS > 0) {
      held.push(tee)
      sum += tee - (held[held.length - 1 - Math.round(averageS / stepS)] ?? 0)
      shown = sum / Math.round(averageS / stepS)
    }
    if (tee < cutOffPa) shown = 0
    if (i % (perLine * linesEach) === 0) reading = shown
    if (i % perLine === 0) track.push({ tUs: i * stepS * 1e6, pressurePa: reading })
  }
  const rows = trackRows(track)
  const sizes = { noisePa: 0.01, digitPa, ratedPa }
  return displayBound(rows, findStrokes(rows, ratedPa).strokes, sizes, { readings: rows, edges: [] })
}

describe('The damping is at most what the vents allow:', () => {
  test.each([
    [0, 0.05],
    [0.1, 0.05],
    [0.3, 0.05],
    [0.8, 0.05],
    [0.3, 0.5],
    [0.1, 2],
  ])('a damping of %d s, let go with %d s', (tauS, letGoS) => {
    for (const everyS of [0.05, 0.2]) {
      const mostS = vents(3, tauS, letGoS, everyS)
      expect(mostS).toBeGreaterThanOrEqual(tauS)
      expect(mostS).toBeLessThan(1.4 * (tauS + letGoS) + everyS)
    }
  })
})

// A reading that is sent again is not measured again: it once made a damping of 0.2 s look like 0.08 s at most.
test('A display that repeats its readings bounds its damping by when they were new.', () => {
  expect(vents(3, 0.2, 0.02, 0.1, 0, 4)).toBeGreaterThanOrEqual(0.2)
})

test('One vent alone, and a vent below the pressure of the room, tell nothing of it.', () => {
  expect(vents(1, 0.3, 0.05, 0.1)).toBe(Number.POSITIVE_INFINITY)
  expect(vents(3, 0.3, 0.05, 0.1, -30)).toBe(Number.POSITIVE_INFINITY)
})

// Bounded by how it eases to rest, a mean over 2 s let go at once once looked like one over 0.7 s.
test.each([
  [1, 0.02],
  [2, 0.02],
  [2, 0.3],
])('A display that averages over %d s, let go with %d s, may be half of that late.', (averageS, letGoS) => {
  for (const everyS of [0.05, 0.2]) {
    const lateS = mostLateS(boundOf(3, 0, letGoS, everyS, 0, 1, averageS))
    expect(lateS).toBeGreaterThanOrEqual(0.99 * Math.min(1, averageS / 2))
    expect(lateS).toBeLessThan(1.2 * (averageS / 2) + letGoS + everyS)
  }
})

// Below a cut-off the display shows 0 at once: a damping of 2 s once looked like one of 0.05 s.
test.each([2, 10])(
  'A fall that ends in a leap to zero below %d Pa proves no more than it showed before that.',
  (cutOffPa) => {
    for (const everyS of [0.05, 0.1]) {
      const { dampingS, averageS, easedS } = boundOf(3, 2, 0.3, everyS, 0, 1, 0, cutOffPa)
      expect(dampingS).toBeGreaterThanOrEqual(2)
      expect(averageS).toBeGreaterThan(2)
      expect(easedS).toBeGreaterThan(2)
    }
  },
)
