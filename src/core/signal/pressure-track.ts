// Raw pressure samples into the zeroed track that everything else reads: spikes out, repeats of a slow display out.
import { criteria } from '../criteria.table.ts'
import type { PressureSample, TrackSample } from '../model/samples.ts'
import { indexAt } from '../statistics/index-at.ts'
import { medianIntervalUs } from '../statistics/median-interval.ts'
import { type Zero, zeroAt } from './zero.ts'

/** The samples with zero subtracted, over-range and single wild readings left out. */
export function zeroedTrack(
  samples: readonly (PressureSample & { halfUs?: number })[],
  zero: Zero,
  digitPa: number,
): TrackSample[] {
  const track: TrackSample[] = []
  for (const { tUs, rawPa, overRange, halfUs } of samples) {
    if (overRange) continue
    const pressurePa = rawPa - zeroAt(zero, tUs)
    track.push(halfUs ? { tUs, pressurePa, halfUs } : { tUs, pressurePa })
  }
  return track.filter((_, i) => !isWild(track, i, zero.noisePa, digitPa))
}

/** Whether a reading stands out alone. Both neighbours on either side must lie close together: a step (the kick) or a fast stroke is no spike. */
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

/** How many samples from the first on are the same in both. */
export function samplesInCommon(a: readonly TrackSample[], b: readonly TrackSample[]): number {
  const isSame = (x: TrackSample, y: TrackSample) =>
    x.tUs === y.tUs && x.pressurePa === y.pressurePa && x.halfUs === y.halfUs
  let count = 0
  while (count < a.length && count < b.length && isSame(a[count]!, b[count]!)) count++
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
