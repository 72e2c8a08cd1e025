// A pressure track into the readings that carry news: a display that repeats itself, or a digit too coarse for the ramp.
import { criteria } from '../criteria.table.ts'
import type { TrackSample } from '../model/samples.ts'
import { median } from '../statistics/mean.ts'
import { pressureAt } from './pressure-track.ts'

export type FreshSample = TrackSample & {
  /** Variance of this reading beyond the noise, Pa²: what a digit change, or the time of a late line, leaves open; absent = none. */
  extraVar?: number
}

export type Freshness = 'every' | 'refreshed' | 'digit-steps'

/** Where each run of equal readings begins. It ends before the next one. */
function runStarts(track: readonly TrackSample[], digitPa: number): number[] {
  const starts: number[] = []
  const leastPa = criteria.sameDigits * digitPa
  for (let i = 0; i < track.length; i++)
    if (i === 0 || !(Math.abs(track[i]!.pressurePa - track[i - 1]!.pressurePa) < leastPa)) starts.push(i)
  return starts
}

/**
 * How the readings above `restPa` renew themselves while the pressure moves steadily. `refreshed`: equal runs of two or more, and
 * leaps of more than one digit between them: the display renews less often than it sends. `digit-steps`: runs of three
 * or more, one digit apart: the digit is coarser than what the ramp does between readings.
 */
export function freshness(track: readonly TrackSample[], digitPa: number, restPa: number): Freshness {
  const starts = runStarts(track, digitPa)
  const lengths: number[] = []
  const steps: number[] = []
  for (let i = 1; i + 1 < starts.length; i++) {
    const [here, after] = [starts[i]!, starts[i + 1]!]
    const value = track[here]!.pressurePa
    const up = value - track[starts[i - 1]!]!.pressurePa
    const on = track[after]!.pressurePa - value
    if (value < restPa || up * on <= 0) continue
    lengths.push(after - here)
    steps.push(Math.abs(up))
  }
  if (lengths.length < criteria.renewalRuns) return 'every'
  const length = median(lengths) ?? 1
  const stepPa = median(steps) ?? 0
  if (length >= criteria.repeatedReadings && stepPa > criteria.leapDigits * digitPa) return 'refreshed'
  return length >= criteria.stayingReadings ? 'digit-steps' : 'every'
}

/**
 * The readings that carry news. Of a repeating display the first of each run: the moment it was renewed. Of a coarse digit the
 * crossings: between two readings one digit apart the pressure passed the middle; a leap or a turn tells only the new digit.
 */
export function freshReadings(track: readonly TrackSample[], digitPa: number, kind: Freshness): FreshSample[] {
  return carryNews(track, digitPa, kind).map((s) =>
    s.halfUs ? { ...s, extraVar: (s.extraVar ?? 0) + timeVar(track, s.tUs, s.halfUs) } : s,
  )
}

/** Half of the time about a reading from which its rate is taken: longer than a kick lasts. */
const rateHalfUs = 0.25e6

/** Variance of a reading whose time is known to ± half: a rectangle of the rate times that. */
function timeVar(track: readonly TrackSample[], tUs: number, halfUs: number): number {
  const reachUs = Math.max(rateHalfUs, halfUs)
  const ratePaPerUs = (pressureAt(track, tUs + reachUs) - pressureAt(track, tUs - reachUs)) / (2 * reachUs)
  return (ratePaPerUs * halfUs) ** 2 / 3
}

function carryNews(track: readonly TrackSample[], digitPa: number, kind: Freshness): readonly FreshSample[] {
  if (kind === 'every') return track
  const starts = runStarts(track, digitPa)
  return kind === 'refreshed' ? starts.map((first) => track[first]!) : digitCrossings(track, starts, digitPa)
}

function digitCrossings(track: readonly TrackSample[], starts: readonly number[], digitPa: number): FreshSample[] {
  const out: FreshSample[] = []
  const whole = digitPa ** 2 / 12
  let before: { first: number; last: number } | null = null
  let direction = 0
  for (const [i, first] of starts.entries()) {
    const run = { first, last: (starts[i + 1] ?? track.length) - 1 }
    // Flicker between two digits at a crossing makes short runs.
    if (run.last - run.first + 1 < criteria.stayingReadings) continue
    if (before !== null) {
      const last = track[before.last]!
      const next = track[run.first]!
      const step = next.pressurePa - last.pressurePa
      if (Math.abs(step) < criteria.sameDigits * digitPa) {
        before = { first: before.first, last: run.last }
        continue
      }
      const onward = step * direction >= 0 && Math.abs(step) < criteria.leapDigits * digitPa
      if (onward) {
        // Somewhere in the flicker, at the pace that the digits before and after show.
        const flickerUs = next.tUs - last.tUs
        const spanUs = Math.max(1, track[run.last]!.tUs - track[before.first]!.tUs) / 2
        const middle = { tUs: (last.tUs + next.tUs) / 2, pressurePa: (last.pressurePa + next.pressurePa) / 2 }
        out.push({ ...middle, extraVar: (digitPa * Math.min(1, flickerUs / spanUs)) ** 2 / 12 })
      } else out.push({ ...last, extraVar: whole }, { ...next, extraVar: whole })
      direction = Math.sign(step)
    }
    before = run
  }
  return out
}
