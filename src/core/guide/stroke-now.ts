// The stroke in progress into where it is: on the way to the make, to the peak, to the break or out; and whether it turned back.

import type { Assessment } from '../assess.ts'
import { criteria } from '../criteria.table.ts'
import { neverMakesPa } from '../diagnosis/never-makes-pressure.ts'
import type { Run } from '../intake/run.ts'
import type { Setup } from '../model/setup.ts'
import { expectedPoints } from '../plan/expected-test.ts'
import { indexAt } from '../statistics/index-at.ts'
import { type Edge, findEdges } from '../strokes/edges.ts'
import { reversalLimitPa } from '../trips/reversal-limit.ts'

export type StrokeNow = {
  /** `to-make` and `to-peak` go up, `to-break` and `out` down; `too-high`: no contact where there should long be one. */
  leg: 'to-make' | 'to-peak' | 'to-break' | 'out' | 'too-high'
  /** Where this leg ends, Pa. */
  targetPa: number
  /** The ramp has to be slow here. */
  nearTrip: boolean
  /** It has been near the trip long enough for its evenness to be judged. */
  settled: boolean
  /** The ramp will have to be slow within moments. */
  approaching: boolean
  /** It turned back within a fifth of the trip: the cycle is void. */
  reversed: boolean
  /** The contact fell to its rest state as the pressure rose: the pair is the other one. */
  inverted: boolean
}

/** Where the trips are to be expected: as this session found them, else as the rating says. Pa. */
export function expectedTrips({ rating }: Setup, assessment: Assessment): { makePa: number; breakPa: number } {
  const points = expectedPoints(rating)
  const { make, break: back, firstStroke } = assessment?.result ?? {}
  return {
    makePa: make?.valuePa ?? firstStroke?.makePa ?? points.makePa,
    breakPa: back?.valuePa ?? firstStroke?.breakPa ?? points.breakPa,
  }
}

/** The stroke in progress; null where there is none. */
export function strokeNow(
  run: Run,
  setup: Setup,
  assessment: Assessment,
  pressurePa: number,
  ratePaPerS: number,
): StrokeNow | null {
  const stroke = run.tracker.current
  if (stroke === null) return null
  const { makePa, breakPa } = expectedTrips(setup, assessment)
  const { ratedPa } = setup.rating
  const edges = edgesSince(run, setup, stroke.startUs)
  const made = edges.find((e) => e.to) ?? null
  const broken = made !== null && edges.some((e) => !e.to && e.hiUs > made.hiUs)
  const inverted = edges[0]?.to === false && edges[0].hiUs <= stroke.peakUs + criteria.otherPairUs
  const peakPa = Math.max(criteria.peakShare * ratedPa, criteria.peakMakeShare * makePa)
  const fallen = pressurePa < stroke.peakPa - criteria.fallenShare * ratedPa
  const soonPa = pressurePa + criteria.soonS * ratePaPerS
  const earlierPa = pressureBefore(run, criteria.evenS)
  const base = { reversed: false, inverted, approaching: false, settled: false }
  const about = (tripPa: number) => ({
    nearTrip: near(pressurePa, tripPa),
    approaching: near(soonPa, tripPa),
    settled: near(pressurePa, tripPa) && near(earlierPa, tripPa),
  })
  const aside = isKnown(assessment) ? criteria.slowKnownShare : criteria.slowShare
  const near = (pa: number, tripPa: number) => Math.abs(pa - tripPa) < aside * tripPa
  const turned = (sinceUs: number, tripPa: number, sign: 1 | -1) =>
    turnedBack(run, setup, assessment, { sinceUs, tripPa, sign })
  if (broken) return { ...base, leg: 'out', targetPa: 0, nearTrip: false }
  if (made === null) {
    const past = fallen && stroke.peakPa > (1 + criteria.reversalReachShare) * makePa
    if (past || stroke.peakPa >= neverMakesPa(setup.rating, setup.rig))
      return { ...base, leg: 'too-high', targetPa: 0, nearTrip: false }
    return { ...base, leg: 'to-make', targetPa: makePa, ...about(makePa), reversed: turned(stroke.startUs, makePa, 1) }
  }
  if (stroke.peakPa >= criteria.atPeakShare * peakPa || fallen)
    return {
      ...base,
      leg: 'to-break',
      targetPa: breakPa,
      ...about(breakPa),
      reversed: turned(stroke.peakUs, breakPa, -1),
    }
  return { ...base, leg: 'to-peak', targetPa: peakPa, nearTrip: false }
}

/** Whether this session has found a make and a break already. */
function isKnown(assessment: Assessment): boolean {
  const first = assessment?.result.firstStroke ?? null
  return first !== null && first.makePa !== null && first.breakPa !== null
}

/** Pressure so many seconds ago, zero subtracted; 0 before the first reading. */
function pressureBefore({ pressure, tracker, tUs }: Run, agoS: number): number {
  let i = pressure.length - 1
  while (i >= 0 && pressure.items[i]!.tUs > tUs - agoS * 1e6) i--
  const sample = pressure.items[i]
  return sample ? sample.rawPa - tracker.zeroPa : 0
}

/** The edges since a time; the reading before it tells from what state the first one changes. */
function edgesSince({ contact: { items, length } }: Run, { rig }: Setup, sinceUs: number): Edge[] {
  return findEdges(items.slice(Math.max(0, indexAt(items, sinceUs) - 1), length), rig.pair)
}

/**
 * Whether the pressure has turned back within a fifth of the trip it was going to: by the limits that void a cycle, and
 * for longer than a kick falls, or by more than one takes back.
 */
function turnedBack(
  run: Run,
  { rating, rig }: Setup,
  assessment: Assessment,
  { sinceUs, tripPa, sign }: { sinceUs: number; tripPa: number; sign: 1 | -1 },
): boolean {
  const noisePa = assessment?.analysis.zero.noisePa ?? 0
  const limitPa = reversalLimitPa({ ratedPa: rating.ratedPa, noisePa, digitPa: rig.digitPa })
  const { items, length } = run.pressure
  let first = length
  while (first > 0 && items[first - 1]!.tUs >= sinceUs) first--
  let [farthest, atUs, lowest] = [Number.NEGATIVE_INFINITY, 0, 0]
  for (let i = first; i < length; i++) {
    const { tUs, rawPa } = items[i]!
    const value = sign * (rawPa - run.tracker.zeroPa)
    if (value > farthest) {
      farthest = lowest = value
      atUs = tUs
      continue
    }
    const back = farthest - value
    const falling = value <= lowest
    lowest = Math.min(lowest, value)
    const near = Math.abs(farthest - sign * tripPa) < criteria.reversalReachShare * tripPa
    const longer = falling && tUs - atUs > criteria.kickUs
    if (near && back > limitPa && (longer || back > criteria.kickShare * rating.ratedPa)) return true
  }
  return false
}
