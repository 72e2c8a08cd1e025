// The rests at the peaks of the strokes into how fast the closed bench loses its vacuum: what a leak may be.
import { criteria } from '../criteria.table.ts'
import type { Stroke } from '../intake/stroke-tracker.ts'
import type { TrackSample } from '../model/samples.ts'
import { fitCommonSlope } from '../statistics/common-slope.ts'
import { indexAt } from '../statistics/index-at.ts'
import { studentQuantile } from '../statistics/student.ts'

/**
 * The fastest loss that the rests at the peaks do not exclude (one-sided 95 %), Pa/s: one slope for all of them. Air that warms
 * counts as loss, which is on the safe side. null where no stroke rests: a hand that draws hides a leak.
 */
export function stillLossPaPerS(
  track: readonly TrackSample[],
  strokes: readonly Stroke[],
  { noisePa, digitPa, ratedPa }: { noisePa: number; digitPa: number; ratedPa: number },
): number | null {
  const rests = strokes.map((stroke) => restAt(track, stroke, { noisePa, digitPa, ratedPa })).filter((r) => r !== null)
  const line = fitCommonSlope(rests)
  if (!line) return null
  const spansS = rests.map(({ xs }) => xs.at(-1)! - xs[0]!)
  // A digit that does not change hides what stays below it: over all rests once in √n of them.
  const hiddenPaPerS = digitPa / Math.hypot(...spansS)
  const noise = Math.max(line.residualSd, noisePa) / Math.max(line.residualSd, Number.MIN_VALUE)
  const uPaPerS = line.residualSd > 0 ? line.uSlope * noise : 0
  return Math.max(0, -line.slope) + studentQuantile(criteria.allowanceProbability, line.dof) * uPaPerS + hiddenPaPerS
}

/** The readings about the peak of a stroke in which the hand is still; null where that is too short. */
function restAt(
  track: readonly TrackSample[],
  { startUs, peakUs, endUs }: Stroke,
  { noisePa, digitPa, ratedPa }: { noisePa: number; digitPa: number; ratedPa: number },
): { xs: number[]; ys: number[] } | null {
  const flickerPa = Math.max(criteria.restNoises * noisePa, digitPa)
  const peak = indexAt(track, peakUs)
  const top = track[peak]
  if (!top) return null
  const isNear = (s: TrackSample | undefined) => {
    if (!s || s.tUs < startUs || s.tUs > endUs) return false
    const driftPa = (criteria.restPaceShare * ratedPa * Math.abs(s.tUs - top.tUs)) / 1e6
    return Math.abs(s.pressurePa - top.pressurePa) <= flickerPa + driftPa
  }
  const reach = (step: 1 | -1) => {
    let i = peak
    while (isNear(track[i + step])) i += step
    return i
  }
  const held = track.slice(reach(-1), reach(1) + 1)
  const spanS = held.length > 0 ? (held.at(-1)!.tUs - held[0]!.tUs) / 1e6 : 0
  if (spanS < criteria.peakRestS || held.length < criteria.peakRestReadings) return null
  return { xs: held.map((s) => s.tUs / 1e6), ys: held.map((s) => s.pressurePa) }
}
