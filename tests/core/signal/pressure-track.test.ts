import { describe, expect, test } from 'vitest'
import { medianIntervalS, pressureAt, zeroedTrack } from '../../../src/core/signal/pressure-track.ts'
import { indexAt } from '../../../src/core/statistics/index-at.ts'
import { rawRows, trackRows } from '../../harness/pressure-rows.ts'

const at = (tS: number, pressurePa: number) => ({ tUs: tS * 1e6, pressurePa })

describe('The track', () => {
  const zero = { before: { tUs: 0, meanPa: 2, sdPa: 0.05, n: 50 }, after: null, noisePa: 0.05 }
  const raw = Array.from({ length: 40 }, (_, i) => ({ tUs: i * 1e5, rawPa: 12 + i / 10 }))

  test('has the zero subtracted', () => {
    expect(zeroedTrack(rawRows(raw), zero, 0.025).at(10)!.pressurePa).toBeCloseTo(11, 9)
  })
  test('leaves a single wild reading out, and one beyond the range', () => {
    const spoilt = raw.map((s, i) =>
      i === 20 ? { ...s, rawPa: 80 } : i === 30 ? { ...s, rawPa: Number.POSITIVE_INFINITY } : s,
    )
    expect([...zeroedTrack(rawRows(spoilt), zero, 0.025).of.tUs]).toEqual(
      raw.filter((_, i) => i !== 20 && i !== 30).map((s) => s.tUs),
    )
  })
  test('keeps a step that stays: the kick', () => {
    const kicked = raw.map((s, i) => (i >= 20 ? { ...s, rawPa: s.rawPa - 3 } : s))
    expect(zeroedTrack(rawRows(kicked), zero, 0.025)).toHaveLength(40)
  })
  test('is read between samples by straight lines, and at its ends beyond them', () => {
    const track = trackRows([at(1, 10), at(2, 20)])
    expect([0, 1, 1.25, 2, 9].map((s) => pressureAt(track, s * 1e6))).toEqual([10, 10, 12.5, 20, 20])
    expect(pressureAt(trackRows([]), 5)).toBe(0)
    expect(medianIntervalS([at(1, 0)])).toBe(0)
  })
  test('is found by its time', () => {
    const samples = [at(1, 0), at(2, 0), at(3, 0)]
    for (const track of [samples, trackRows(samples)])
      expect([0, 1, 1.5, 3, 4].map((s) => indexAt(track, s * 1e6))).toEqual([0, 0, 1, 2, 3])
  })
})
