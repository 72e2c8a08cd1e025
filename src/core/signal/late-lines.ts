// Readings that may have come late into how much that leaves open of their pressure.
import { criteria } from '../criteria.table.ts'
import type { Track } from '../model/samples.ts'
import { medianOfOwn } from '../statistics/mean.ts'
import { pressureAt } from './pressure-track.ts'

/** So many steps tell how even the lines of a session came. */
const mostSteps = 4096

/** Rounded up to a power of this, so that one more stroke seldom changes it, and with it what is known of all strokes before. */
const grain = Math.SQRT2

/**
 * Within how much of their time nearly all readings were taken, µs, as the steps between them tell: a line that came late makes one
 * step longer and the next one shorter. 0 where they keep their beat to a thousandth of a second.
 */
export function unevenUs({ of, length }: Pick<Track, 'of' | 'length'>): number {
  const stride = Math.max(1, Math.ceil(length / mostSteps))
  const stepsUs = new Float64Array(Math.max(0, Math.floor((length - 1) / stride)))
  for (let i = 0; i < stepsUs.length; i++) stepsUs[i] = of.tUs[i * stride + 1]! - of.tUs[i * stride]!
  const usualUs = medianOfOwn(stepsUs) ?? 0
  const offUs = stepsUs.map((stepUs) => Math.abs(stepUs - usualUs)).sort()
  const mostUs = offUs[Math.floor(criteria.evenShare * offUs.length)] ?? 0
  return mostUs < leastUs ? 0 : grain ** Math.ceil(Math.log(mostUs) / Math.log(grain))
}

/** Less than this is no lateness: what a clock and a wire make of any line, µs. Common practice, no source. */
const leastUs = 1000

/** Half of the time about a reading from which its rate is taken: longer than a kick lasts. */
const rateHalfUs = 0.25e6

/** Variance of the pressure at a reading whose time is known to ± `halfUs`, Pa²: a rectangle of the rate times that. */
export function lateVar(track: Track, tUs: number, halfUs: number): number {
  if (halfUs === 0) return 0
  const reachUs = Math.max(rateHalfUs, halfUs)
  const ratePaPerUs = (pressureAt(track, tUs + reachUs) - pressureAt(track, tUs - reachUs)) / (2 * reachUs)
  return (ratePaPerUs * halfUs) ** 2 / 3
}
