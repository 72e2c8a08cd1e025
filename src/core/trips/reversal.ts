// The readings on the way to a trip into whether the pressure turned back near it: one rule, for what voids a cycle and for the guide.
import { criteria } from '../criteria.table.ts'
import type { Track, TrackSample } from '../model/samples.ts'
import { indexAt } from '../statistics/index-at.ts'
import type { Cycle } from '../strokes/cycles.ts'

/** What a session makes of the table: Pa. */
type Sizes = { ratedPa: number; noisePa: number; digitPa: number }

/** The pressure has turned back where it fell by more than this, Pa. */
export function reversalLimitPa({ ratedPa, noisePa, digitPa }: Sizes): number {
  const { reversalShare, reversalNoises, reversalDigits } = criteria
  return Math.max(reversalShare * ratedPa, reversalNoises * noisePa, reversalDigits * digitPa)
}

/** The way to one trip: from the start of the stroke to its make, from the peak to its break. */
export type WayToTrip = {
  transition: 'make' | 'break'
  fromUs: number
  /** The trip, or as far as it can be told without it. */
  untilUs: number
  tripPa: number
  /** A fall that begins at or after this may be the kick: it counts once it is larger than a kick, or goes on after one. */
  kickFromUs: number
}

/** Whether the pressure turned back on that way, within a fifth of the trip or beyond it. False for no readings. */
export function turnsBack(track: Track, way: WayToTrip, sizes: Sizes): boolean {
  const { transition, fromUs, untilUs, tripPa, kickFromUs } = way
  const sign = transition === 'make' ? 1 : -1
  const limitPa = reversalLimitPa(sizes)
  const nearPa = sign * tripPa - criteria.reversalReachShare * tripPa
  const mostKickPa = criteria.kickShare * sizes.ratedPa
  // `kickedPa`: the lowest while a kick that began at the turn may still fall, the first reading after it included.
  let [farthestPa, turnUs, kickedPa, beforeUs] = [Number.NEGATIVE_INFINITY, 0, 0, 0]
  for (let i = indexAt(track, fromUs); i < track.length && track.of.tUs[i]! < untilUs; i++) {
    const tUs = track.of.tUs[i]!
    const value = sign * track.of.pressurePa[i]!
    if (value >= farthestPa) {
      farthestPa = kickedPa = value
      turnUs = tUs
    } else if (farthestPa > nearPa && farthestPa - value > limitPa) {
      const goesOn = kickedPa - value > limitPa && beforeUs - turnUs > criteria.kickUs
      if (turnUs < kickFromUs || goesOn || farthestPa - value > mostKickPa) return true
    }
    if (beforeUs - turnUs <= criteria.kickUs) kickedPa = Math.min(kickedPa, value)
    beforeUs = tUs
  }
  return false
}

/**
 * The reading at which the way down begins: the highest of the stroke. Where it is that of the make, the kick comes next and
 * not the hand: the highest after it. null where the kick may still fall.
 */
export function topOf(track: Track, { span, make }: Pick<Cycle, 'span' | 'make'>): TrackSample | null {
  const kickedUs = make ? make.hiUs + criteria.kickUs : Number.NEGATIVE_INFINITY
  const fromUs = Math.max(span.peakUs, kickedUs)
  const { tUs, pressurePa } = track.of
  let top: number | null = null
  for (let i = indexAt(track, fromUs); i < track.length && tUs[i]! <= span.endUs; i++)
    if (top === null || pressurePa[i]! > pressurePa[top]!) top = i
  return top === null ? null : track.at(top)!
}
