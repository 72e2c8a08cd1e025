// Raw pressure samples into the zeroed track that everything else reads: spikes out, repeats of a slow display out.
import { criteria } from '../criteria.table.ts'
import type { PressureSample, TrackSample } from '../model/samples.ts'
import { indexAt } from '../statistics/index-at.ts'
import { medianIntervalUs } from '../statistics/median-interval.ts'
import { type Zero, zeroAt } from './zero.ts'

/**
 * The samples with zero subtracted, over-range and single wild readings left out. `before`: the track when less was known; a
 * sample that comes out as it was there is the very same one.
 */
export function zeroedTrack(
  samples: readonly (PressureSample & { halfUs?: number })[],
  zero: Zero,
  digitPa: number,
  before: readonly TrackSample[] = [],
): TrackSample[] {
  const track: TrackSample[] = []
  let kept = 0
  for (const { tUs, rawPa, overRange, halfUs } of samples) {
    if (overRange) continue
    const pressurePa = rawPa - zeroAt(zero, tUs)
    const same = before[kept]
    if (same?.tUs === tUs && same.pressurePa === pressurePa && same.halfUs === (halfUs || undefined)) {
      track.push(same)
      kept++
    } else track.push(halfUs ? { tUs, pressurePa, halfUs } : { tUs, pressurePa })
  }
  return track.filter((_, i) => !isWild(track, i, zero.noisePa, digitPa))
}

/** Whether a reading stands out alone. Both neighbours on either side must lie close together: a step (the kick) or a fast stroke is not one. */
function isWild(track: readonly TrackSample[], i: number, noisePa: number, digitPa: number): boolean {
  const [first, last] = [track[i - 2], track[i + 2]]
  if (!first || !last) return false
  const [a, b, c, d] = [first.pressurePa, track[i - 1]!.pressurePa, track[i + 1]!.pressurePa, last.pressurePa]
  const widthPa = Math.max(a, b, c, d) - Math.min(a, b, c, d)
  const limitPa = Math.max(criteria.wildNoises * noisePa, criteria.wildDigits * digitPa, criteria.wildWidths * widthPa)
  // Of the four the two in the middle.
  const [x, y] = [Math.max(Math.min(a, b), Math.min(c, d)), Math.min(Math.max(a, b), Math.max(c, d))]
  const middlePa = Math.min(x, y) + Math.abs(y - x) / 2
  return Math.abs(track[i]!.pressurePa - middlePa) > limitPa
}

/** How many samples from the first on are the very same in both. */
export function samplesInCommon(a: readonly TrackSample[], b: readonly TrackSample[]): number {
  let count = 0
  while (count < a.length && a[count] === b[count]) count++
  return count
}

/** Pressure at `tUs` by straight lines between samples; the nearest end outside them, 0 for none. */
export function pressureAt(track: readonly TrackSample[], tUs: number): number {
  const i = indexAt(track, tUs)
  const [a, b] = [track[i - 1], track[i]]
  if (!a || !b) return (a ?? b)?.pressurePa ?? 0
  return a.pressurePa + ((b.pressurePa - a.pressurePa) * (tUs - a.tUs)) / Math.max(1, b.tUs - a.tUs)
}

/** Median of the intervals between samples, s; 0 for fewer than two. */
export function medianIntervalS(samples: readonly { tUs: number }[]): number {
  return (medianIntervalUs(samples) ?? 0) / 1e6
}
