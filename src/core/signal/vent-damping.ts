// The vents of a session into the longest damping that its manometer can have: a damped display cannot fall faster than it forgets.
import { criteria } from '../criteria.table.ts'
import type { Stroke } from '../intake/stroke-tracker.ts'
import type { TrackSample } from '../model/samples.ts'
import { indexAt } from '../statistics/index-at.ts'
import { median } from '../statistics/mean.ts'

/**
 * Upper bound of a first-order damping, s; ∞ where too few vents tell. Behind a damping τ the display obeys dp/dt = (P − p)/τ,
 * and P ≥ 0 at the tee: from p1 to p2 it takes at least τ·ln(p1/p2). `intervalS`: between renewals of the display, by which the
 * samples of two readings may lie farther apart than the readings.
 */
export function mostDampingS(
  track: readonly TrackSample[],
  strokes: readonly Stroke[],
  intervalS: number,
  ratedPa: number,
): number {
  const bounds = strokes.flatMap(({ peakUs, endUs }) => boundOf(track, peakUs, endUs, intervalS, ratedPa) ?? [])
  return bounds.length < criteria.dampingVents ? Number.POSITIVE_INFINITY : (median(bounds) ?? Number.POSITIVE_INFINITY)
}

function boundOf(track: readonly TrackSample[], peakUs: number, endUs: number, intervalS: number, ratedPa: number) {
  const [highPa, lowPa] = [criteria.ventFromShare * ratedPa, criteria.ventToShare * ratedPa]
  const from = track.slice(0, indexAt(track, endUs)).findLastIndex((s) => s.pressurePa >= highPa)
  const to = track.findIndex((s, i) => i > from && s.pressurePa <= lowPa)
  const [high, low] = [track[from], track[to]]
  if (!high || !low || high.tUs < peakUs || low.tUs > endUs + criteria.ventWatchedUs) return null
  // Pushed below the room's pressure the display may fall as fast as it likes.
  if (low.pressurePa < -lowPa) return null
  const unsureUs = (high.halfUs ?? 0) + (low.halfUs ?? 0)
  return ((low.tUs - high.tUs + unsureUs) / 1e6 + intervalS) / Math.log(high.pressurePa / lowPa)
}
