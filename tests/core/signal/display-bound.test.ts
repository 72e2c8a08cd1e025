import { describe, expect, test } from 'vitest'
import { findStrokes } from '../../../src/core/intake/stroke-tracker.ts'
import { displayBound } from '../../../src/core/signal/display-bound.ts'

const ratedPa = 62.3

/** Strokes up to 78 Pa, each let go with a time constant of its own, behind a display with a damping. */
function vents(count: number, tauS: number, letGoS: number, everyS: number, floorPa = 0) {
  let [tee, shown] = [0, 0]
  const track: { tUs: number; pressurePa: number }[] = []
  const stepS = 0.001
  const perReading = Math.round(everyS / stepS)
  for (let i = 0; i < count * 20_000; i++) {
    const tS = (i * stepS) % 20
    if (tS < 2) tee = 0
    else if (tS < 10) tee = (78 * (tS - 2)) / 8
    else tee = floorPa + (tee - floorPa) * Math.exp(-stepS / letGoS)
    shown = tauS === 0 ? tee : shown + (tee - shown) * (1 - Math.exp(-stepS / tauS))
    if (i % perReading === 0) track.push({ tUs: i * stepS * 1e6, pressurePa: shown })
  }
  return displayBound(track, findStrokes(track, ratedPa).strokes, 0.01, ratedPa).dampingS
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

test('One vent alone, and a vent below the pressure of the room, tell nothing of it.', () => {
  expect(vents(1, 0.3, 0.05, 0.1)).toBe(Number.POSITIVE_INFINITY)
  expect(vents(3, 0.3, 0.05, 0.1, -30)).toBe(Number.POSITIVE_INFINITY)
})
