import { describe, expect, test } from 'vitest'
import type { Track } from '../../../src/core/model/samples.ts'
import { freshness, freshReadings } from '../../../src/core/signal/fresh-readings.ts'
import { medianIntervalS } from '../../../src/core/signal/pressure-track.ts'
import { createRandom } from '../../harness/foreign-recording.ts'
import { trackRows } from '../../harness/pressure-rows.ts'

const at = (tS: number, pressurePa: number) => ({ tUs: tS * 1e6, pressurePa })

/** A ramp of 1 Pa/s from 20 Pa on, ten lines a second, renewed every `renewal` lines, rounded to the digit. */
function ramp(renewal: number, digitPa: number, noisePa: number): Track {
  const random = createRandom(1)
  let shown = 0
  const samples = Array.from({ length: 300 }, (_, i) => {
    if (i % renewal === 0) shown = Math.round((20 + i / 10 + noisePa * random.normal()) / digitPa) * digitPa
    return at(i / 10, shown)
  })
  return trackRows(samples)
}

describe('The readings that carry news', () => {
  test('are all of them where each line is new', () => {
    const track = ramp(1, 0.025, 0.05)
    expect(freshness(track, 0.025, 12)).toBe('every')
    expect(freshReadings(track, 0.025, 'every')).toHaveLength(300)
  })

  test('are the first of each run where the display renews less often than it sends', () => {
    const track = ramp(5, 0.025, 0.02)
    expect(freshness(track, 0.025, 12)).toBe('refreshed')
    const fresh = freshReadings(track, 0.025, 'refreshed')
    expect(fresh.length).toBeGreaterThan(55)
    expect([...fresh.of.tUs]).toEqual(Array.from(fresh.of.tUs, (_, i) => i * 0.5e6))
    expect(medianIntervalS(fresh)).toBeCloseTo(0.5, 9)
  })

  test('are the crossings where the digit is coarser than what the ramp does between readings', () => {
    const track = ramp(1, 2.5, 0)
    expect(freshness(track, 2.5, 12)).toBe('digit-steps')
    const crossings = freshReadings(track, 2.5, 'digit-steps')
    expect(crossings.length).toBeGreaterThan(10)
    // At a crossing of half a digit the ramp stands right there: to the ramp between two readings, not to the digit.
    for (const { tUs, pressurePa } of crossings.slice())
      expect(Math.abs(pressurePa - (20 + tUs / 1e6))).toBeLessThan(0.11)
  })

  test('of a coarse digit that leaps tell no more than the digit', () => {
    const leap = trackRows([20, 20, 20, 30, 30, 30].map((p, i) => at(i / 10, p)))
    const fresh = freshReadings(leap, 2.5, 'digit-steps')
    expect(fresh.slice()).toContainEqual({ ...at(0.3, 30), halfUs: 0, extraVar: 2.5 ** 2 / 12 })
    expect(fresh.of.extraVar.every((extraVar) => extraVar === 2.5 ** 2 / 12)).toBe(true)
  })

  test('cannot be told from too few, or from a rest', () => {
    expect(freshness(ramp(5, 0.025, 0.02).part(0, 30), 0.025, 12)).toBe('every')
    expect(freshness(ramp(5, 0.025, 0.02), 0.025, 100)).toBe('every')
    expect(freshness(trackRows([]), 0.025, 12)).toBe('every')
    expect(freshReadings(trackRows([]), 0.025, 'refreshed')).toHaveLength(0)
  })
})
