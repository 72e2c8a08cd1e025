// Raw pressure samples into the zeroed track that everything else reads: spikes out, repeats of a slow display out.
import { criteria } from '../criteria.table.ts'
import type { PressureSample, TrackSample } from '../model/samples.ts'
import { indexAt } from '../statistics/index-at.ts'
import { median } from '../statistics/mean.ts'
import { type Zero, zeroAt } from './zero.ts'

/** The samples with zero subtracted, over-range and single wild readings left out. */
export function zeroedTrack(
  samples: readonly (PressureSample & { halfUs?: number })[],
  zero: Zero,
  digitPa: number,
): TrackSample[] {
  const track = samples
    .filter((s) => !s.overRange)
    .map((s): TrackSample => {
      const halfUs = s.halfUs ? { halfUs: s.halfUs } : {}
      return { tUs: s.tUs, pressurePa: s.rawPa - zeroAt(zero, s.tUs), ...halfUs }
    })
  return track.filter((s, i) => {
    const [a, b, c, d] = [track[i - 2], track[i - 1], track[i + 1], track[i + 2]]
    if (!a || !b || !c || !d) return true
    // Both neighbours on either side must lie close together: a step (the kick) or a fast stroke is no spike.
    const around = [a, b, c, d].map((x) => x.pressurePa)
    const widthPa = Math.max(...around) - Math.min(...around)
    const limitPa = Math.max(
      criteria.wildNoises * zero.noisePa,
      criteria.wildDigits * digitPa,
      criteria.wildWidths * widthPa,
    )
    return Math.abs(s.pressurePa - (median(around) ?? 0)) <= limitPa
  })
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
  const steps = samples.slice(1).map((s, i) => s.tUs - samples[i]!.tUs)
  return (median(steps) ?? 0) / 1e6
}
