// The rests at the peaks of the strokes into how fast the closed bench loses its vacuum: what a leak may be.
import { criteria } from '../criteria.table.ts'
import type { Stroke } from '../intake/stroke-tracker.ts'
import type { Track } from '../model/samples.ts'
import { fitCommonSlope } from '../statistics/common-slope.ts'
import { indexAt } from '../statistics/index-at.ts'
import { studentQuantile } from '../statistics/student.ts'

/**
 * The fastest loss that the rests at the peaks do not exclude (one-sided 95 %), Pa/s: one slope for all of them. Air that warms
 * counts as loss, which is on the safe side. null where no stroke rests: a hand that draws hides a leak.
 */
export function stillLossPaPerS(
  track: Track,
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

/** The longest stretch near the peak of a stroke in which the hand is still; null where that is too short. */
function restAt(
  track: Track,
  { startUs, endUs, peakPa }: Stroke,
  { noisePa, digitPa, ratedPa }: { noisePa: number; digitPa: number; ratedPa: number },
): { xs: number[]; ys: number[] } | null {
  const flickerPa = Math.max(criteria.restNoises * noisePa, digitPa)
  const { of, length } = track
  const isHigh = (i: number) =>
    i < length && of.tUs[i]! <= endUs && of.pressurePa[i]! >= criteria.peakRestShare * peakPa
  const stepUs = criteria.restStepS * 1e6
  const mostPa = flickerPa + criteria.restPaceShare * ratedPa * criteria.restStepS
  const isStill = (from: number, to: number) => {
    const earlier = Math.max(from, indexAt(track, of.tUs[to]! - stepUs))
    return Math.abs(of.pressurePa[to]! - of.pressurePa[earlier]!) <= mostPa
  }
  let best = track.part(0, 0)
  for (let from = indexAt(track, startUs); from < length && of.tUs[from]! <= endUs; from++) {
    if (!isHigh(from)) continue
    let to = from + 1
    while (isHigh(to) && isStill(from, to)) to++
    // A hand that begins to move is seen only after a step.
    const stretch = track.part(from, indexAt(track, of.tUs[to - 1]! - stepUs))
    if (stretch.length > best.length) best = stretch
    from = to - 1
  }
  const [first, last] = [best.at(0), best.at(-1)]
  if (!first || !last || best.length < criteria.peakRestReadings) return null
  if (last.tUs - first.tUs < criteria.peakRestS * 1e6) return null
  return { xs: Array.from(best.of.tUs, (tUs) => tUs / 1e6), ys: [...best.of.pressurePa] }
}
