// The stroke in progress into where it is: on the way to the make, to the peak, to the break or out; and whether it turned back.

import type { Assessment } from '../assess.ts'
import { criteria } from '../criteria.table.ts'
import { neverMakesPa } from '../diagnosis/never-makes-pressure.ts'
import type { Run } from '../intake/run.ts'
import { Columns } from '../model/columns.ts'
import type { Track } from '../model/samples.ts'
import type { Setup } from '../model/setup.ts'
import { expectedPoints } from '../plan/expected-test.ts'
import { pressureAt, zeroedTrack } from '../signal/pressure-track.ts'
import { indexAt } from '../statistics/index-at.ts'
import { type Cycle, findCycles } from '../strokes/cycles.ts'
import { type Edge, findEdges } from '../strokes/edges.ts'
import { topOf, turnsBack } from '../trips/reversal.ts'

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
  /** The switch has just released: a vent at once looks like its kick. */
  justReleased: boolean
  /** It turned back on the way to its make or to its break: the cycle is void. */
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
  const cycle = findCycles({ strokes: [stroke], open: null }, edges, [])[0]!
  const track = trackSince(run, setup, assessment, stroke.startUs)
  const reversed = turnedBack(track, setup, assessment, cycle)
  const topPa = topOf(track, cycle)?.pressurePa ?? 0
  const inverted = edges[0]?.to === false && edges[0].hiUs <= stroke.peakUs + criteria.otherPairUs
  const peakPa = Math.max(criteria.peakShare * ratedPa, criteria.peakMakeShare * makePa)
  const fallen = pressurePa < topPa - criteria.fallenShare * ratedPa
  const soonPa = pressurePa + criteria.soonS * ratePaPerS
  const earlierPa = pressureBefore(run, criteria.evenS)
  const justReleased = cycle.break !== null && run.tUs - cycle.break.hiUs < criteria.lingerUs
  const base = { reversed, inverted, justReleased, approaching: false, settled: false }
  const about = (tripPa: number) => ({
    nearTrip: near(pressurePa, tripPa),
    approaching: near(soonPa, tripPa),
    settled: near(pressurePa, tripPa) && near(earlierPa, tripPa),
  })
  const aside = isKnown(assessment) ? criteria.slowKnownShare : criteria.slowShare
  const near = (pa: number, tripPa: number) => Math.abs(pa - tripPa) < aside * tripPa
  if (cycle.break !== null) return { ...base, leg: 'out', targetPa: 0, nearTrip: false }
  if (cycle.make === null) {
    const past = fallen && stroke.peakPa > (1 + criteria.reversalReachShare) * makePa
    if (past || stroke.peakPa >= neverMakesPa(setup.rating, setup.rig))
      return { ...base, leg: 'too-high', targetPa: 0, nearTrip: false }
    return { ...base, leg: 'to-make', targetPa: makePa, ...about(makePa) }
  }
  if (stroke.peakPa >= criteria.atPeakShare * peakPa || fallen)
    return { ...base, leg: 'to-break', targetPa: breakPa, ...about(breakPa) }
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
  while (i >= 0 && pressure.of.tUs[i]! > tUs - agoS * 1e6) i--
  return i < 0 ? 0 : pressure.of.rawPa[i]! - tracker.zeroPa
}

/** The edges since a time; the reading before it tells from what state the first one changes. */
function edgesSince({ contact }: Run, { rig }: Setup, sinceUs: number): Edge[] {
  return findEdges(contact.part(indexAt(contact, sinceUs) - 1), rig.pair)
}

/**
 * Whether the stroke has turned back, by the rule that voids its cycle. While the contact has not changed the trip is where
 * it is expected, and a fall may be its kick; once it has, only what falls just before it may.
 */
function turnedBack(track: Track, setup: Setup, assessment: Assessment, cycle: Cycle): boolean {
  const { span, make, break: back } = cycle
  const sizes = {
    ratedPa: setup.rating.ratedPa,
    noisePa: assessment?.analysis.streams.noisePa ?? 0,
    digitPa: setup.rig.digitPa,
  }
  const expected = expectedTrips(setup, assessment)
  const turns = (transition: 'make' | 'break', fromUs: number, edge: Edge | null) => {
    const expectedPa = transition === 'make' ? expected.makePa : expected.breakPa
    const untilUs = edge?.loUs ?? Number.POSITIVE_INFINITY
    const tripPa = edge ? pressureAt(track, edge.loUs) : expectedPa
    const kickFromUs = edge ? edge.loUs - criteria.searchBackS * 1e6 : fromUs
    return turnsBack(track, { transition, fromUs, untilUs, tripPa, kickFromUs }, sizes)
  }
  if (make === null)
    return span.peakPa < (1 + criteria.reversalReachShare) * expected.makePa && turns('make', span.startUs, null)
  if (turns('make', span.startUs, make)) return true
  const top = topOf(track, cycle)
  if (top === null) return false
  const lowestPa = Math.min(...track.slice(indexAt(track, top.tUs)).map((s) => s.pressurePa))
  const past = back === null && lowestPa < (1 - criteria.reversalReachShare) * expected.breakPa
  return !past && turns('break', top.tUs, back)
}

/** The readings since a time as they are judged; the newest are left out, of which it cannot be told yet whether they are wild. */
function trackSince({ pressure }: Run, { rig }: Setup, assessment: Assessment, sinceUs: number): Track {
  const { of, length } = pressure.part(indexAt(pressure, sinceUs))
  const samples = new Columns({ ...of, halfUs: new Float64Array(length) }, length)
  const zero = assessment?.analysis.zero ?? { before: null, after: null, noisePa: 0 }
  const lastUs = samples.at(-3)?.tUs ?? Number.NEGATIVE_INFINITY
  const track = zeroedTrack(samples, zero, rig.digitPa)
  let end = track.length
  while (end > 0 && track.of.tUs[end - 1]! > lastUs) end--
  return track.part(0, end)
}
