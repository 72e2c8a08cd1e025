// Pressure samples into strokes: a stroke leaves below 0.2 S and returns there. What was on its way before a rest was seen is none.

import { criteria } from '../criteria.table.ts'
import type { Columns } from '../model/columns.ts'

/** Times in µs; `endUs` is the first sample back below 0.2 S. */
export type Stroke = { startUs: number; peakUs: number; endUs: number; peakPa: number }

export type StrokeTracker = {
  /** The bench has been seen vented. */
  rested: boolean
  /** The stroke in progress; `endUs` is the newest sample then. */
  current: Stroke | null
  /** The stroke that the last sample finished; null otherwise. */
  finished: Stroke | null
  count: number
}

export const initialTracker: StrokeTracker = { rested: false, current: null, finished: null, count: 0 }

/** The tracker after one sample with zero subtracted. */
export function track(tracker: StrokeTracker, tUs: number, pressurePa: number, ratedPa: number): StrokeTracker {
  const { rested, current, count } = tracker
  if (pressurePa < criteria.restShare * ratedPa) {
    if (current === null)
      return rested && tracker.finished === null ? tracker : { ...tracker, rested: true, finished: null }
    if (current.peakPa < criteria.strokeShare * ratedPa) return { rested, current: null, finished: null, count }
    return { rested, current: null, finished: { ...current, endUs: tUs }, count: count + 1 }
  }
  if (!rested) return tracker
  if (current === null)
    return { rested, current: { startUs: tUs, peakUs: tUs, endUs: tUs, peakPa: pressurePa }, finished: null, count }
  const higher = pressurePa > current.peakPa
  const next = higher ? { ...current, peakUs: tUs, peakPa: pressurePa, endUs: tUs } : { ...current, endUs: tUs }
  return { rested, current: next, finished: null, count }
}

/** The finished strokes of pressures with zero subtracted, and the one still in progress at their end (null where vented). */
export function findStrokes(
  { of, length }: Columns<'tUs' | 'pressurePa'>,
  ratedPa: number,
): { strokes: Stroke[]; open: Stroke | null } {
  const strokes: Stroke[] = []
  let tracker = initialTracker
  for (let i = 0; i < length; i++) {
    tracker = track(tracker, of.tUs[i]!, of.pressurePa[i]!, ratedPa)
    if (tracker.finished) strokes.push(tracker.finished)
  }
  return { strokes, open: tracker.current }
}

/** The tracker while the session runs: it knows only the zero seen so far, the mean of the first rest. */
export type LiveTracker = StrokeTracker & { zeroPa: number; zeroCount: number }

export const initialLiveTracker: LiveTracker = { ...initialTracker, zeroPa: 0, zeroCount: 0 }

/** The live tracker after one raw sample. */
export function trackLive(tracker: LiveTracker, tUs: number, rawPa: number, ratedPa: number): LiveTracker {
  let { zeroPa, zeroCount } = tracker
  const resting = Math.abs(rawPa - zeroPa) < criteria.liveZeroShare * ratedPa
  if (tracker.count === 0 && tracker.current === null && zeroCount < criteria.liveZeroReadings && resting) {
    zeroPa += (rawPa - zeroPa) / (zeroCount + 1)
    zeroCount++
  }
  return { ...track(tracker, tUs, rawPa - zeroPa, ratedPa), zeroPa, zeroCount }
}
