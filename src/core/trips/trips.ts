// Cycles into trips ready for the fit: the readings around each edge, how likely each moment is, and why a cycle is void.
import { criteria } from '../criteria.table.ts'
import type { Columns } from '../model/columns.ts'
import type { Pair } from '../model/pair.ts'
import type { WhyNot } from '../model/result.ts'
import type { Track } from '../model/samples.ts'
import { type FreshReadings, freshness, freshReadings } from '../signal/fresh-readings.ts'
import { isFrozen } from '../signal/frozen-display.ts'
import { lateVar, unevenUs } from '../signal/late-lines.ts'
import { medianIntervalS, pressureAt } from '../signal/pressure-track.ts'
import { gapUs } from '../signal/silence.ts'
import { indexAt } from '../statistics/index-at.ts'
import { isSame } from '../statistics/is-same.ts'
import { type Cycle, chatters } from '../strokes/cycles.ts'
import type { Edge } from '../strokes/edges.ts'
import { kickSeen, type TripCell, type TripSurface, tripSurface } from './kick.ts'
import { type RampModel, type RampSample, type WeighedStretch, weighStretch } from './ramp.ts'
import type { Response } from './response.ts'
import { topOf, turnsBack } from './reversal.ts'

export type Trip = {
  stroke: number
  transition: 'make' | 'break'
  edge: Edge
  loS: number
  hiS: number
  /** What the surface was worked out from: where that is the same again, so is the surface. */
  asked: Asked
  surface: TripSurface
  kick: boolean
}

type Asked = Parameters<typeof tripSurface>

export type Streams = {
  track: Track
  /** The readings of the track that carry news: what a ramp is drawn through. */
  fresh: FreshReadings
  /** Within how much of their time nearly all of them were taken, µs. */
  unevenUs: number
  contact: Columns<'tUs'>
  /** Median intervals of the two streams, s. */
  pressureIntervalS: number
  contactIntervalS: number
  linkBreaksUs: readonly number[]
  /** Stretches of which the pressure is not known: the machine was suspended, or the zero moved. */
  unknownUs: readonly { fromUs: number; toUs: number }[]
  unitChangedUs: number | null
  noisePa: number
  /** The digit is coarser than what the ramp does between readings: too little is seen to learn a lag from rates. */
  coarse: boolean
  /** The shapes that a kick may have on this display. */
  answers: readonly Response[]
  /** How late the display may be on the way up and down by what its stops and vents leave open, s. */
  displayLateS: { make: number; break: number }
  /** How finely the moving pressure is read, Pa. */
  resolutionPa: number
  digitPa: number
  ratedPa: number
  halfTolerancePa: number
  pair: Pair
}

/** Streams faster than this are averaged to it, s: at 5 Pa/s it costs 0.06 Pa of a single trip. */
const finestS = 0.04

/** A crossing of a coarse digit is known far better than the digit: to a few hundredths of it, what the ramp does between readings. */
const crossingShare = 0.04

/**
 * The pressure stream as a ramp sees it. `intervalS`: between readings, or between renewals of a display that repeats itself;
 * `noisePa`: of one fresh reading.
 */
export function pressureStream(track: Track, noisePa: number, digitPa: number, ratedPa: number) {
  const kind = freshness(track, digitPa, criteria.restShare * ratedPa)
  const fresh = freshReadings(track, digitPa, kind)
  return {
    track,
    fresh,
    unevenUs: unevenUs(track),
    renewed: kind === 'refreshed' ? fresh : track,
    pressureIntervalS: medianIntervalS(kind === 'refreshed' ? fresh : track),
    noisePa: kind === 'digit-steps' ? digitPa * crossingShare : noisePa,
    resolutionPa: kind === 'digit-steps' ? 2 * digitPa * crossingShare : digitPa,
    coarse: kind === 'digit-steps',
  }
}

/**
 * The stretches of ramp that the session's hand is known by: the readings before each trip; whole rises in strokes that have none.
 * `before`: those of the session when less was known of it.
 */
export function sessionStretches(
  cycles: readonly Cycle[],
  streams: Streams,
  before: readonly WeighedStretch[] = [],
): WeighedStretch[] {
  const stretches = cycles.flatMap((cycle) => {
    if (!cycle.make && !cycle.break) return [samplesBetween(streams, cycle.span.startUs, cycle.span.peakUs)]
    return [cycle.make, cycle.break].flatMap((edge) => {
      if (!edge) return []
      const endUs = edge.loUs - criteria.paceEndUs
      const near = nearTrip(edge, streams, criteria.paceShare)
      return [samplesBetween(streams, Math.max(near.fromUs, endUs - criteria.rampLeadS * 1e6), endUs)]
    })
  })
  return stretches.map((stretch, i) => weighStretch(stretch, streams.noisePa, before[i]))
}

/**
 * The trip of `edge`, with the likelihood of each moment in the pressure stream; `before`: the same trip as it was located when
 * less was known of the session, or null.
 */
export function locateTrip(cycle: Cycle, edge: Edge, streams: Streams, model: RampModel, before: Trip | null): Trip {
  const transition = edge.to ? 'make' : 'break'
  const intervalsS = streams.pressureIntervalS + streams.contactIntervalS
  const backS = Math.max(criteria.searchBackS, criteria.searchIntervals * intervalsS)
  // A make lies on the way up and a break on the way down: the search does not cross the peak or leave the stroke.
  const near = nearTrip(edge, streams, criteria.rampReachShare)
  const { searchPastStrokeUs, searchPastPeakUs } = criteria
  const { startUs, peakUs, endUs } = cycle.span
  const earliestUs = Math.max(near.fromUs, edge.to ? startUs - searchPastStrokeUs : peakUs)
  const latestUs = Math.min(near.toUs, edge.to ? peakUs + searchPastPeakUs : endUs + searchPastStrokeUs)
  const fromUs = Math.max(edge.loUs - backS * 1e6, earliestUs)
  const toUs = Math.max(fromUs, Math.min(edge.hiUs + criteria.searchOnS * 1e6, latestUs))
  const samples = samplesBetween(
    streams,
    Math.max(fromUs - criteria.rampLeadS * 1e6, earliestUs),
    Math.min(toUs + criteria.rampTailS * 1e6, near.toUs),
  )
  const direction = edge.to ? 1 : -1
  const kickPa = criteria.kickShare * streams.ratedPa
  const asked: Asked = [samples, fromUs / 1e6, toUs / 1e6, direction, model, kickPa, streams.answers]
  const surface = before && isSame(before.asked, asked) ? before.surface : tripSurface(...asked)
  return {
    stroke: cycle.stroke,
    transition,
    edge,
    loS: edge.loUs / 1e6,
    hiS: edge.hiUs / 1e6,
    asked,
    surface,
    kick: kickSeen(surface, model),
  }
}

/** The unbroken stretch of time about an edge in which the pressure stays near that of the edge. */
function nearTrip(edge: Edge, streams: Streams, share: number): { fromUs: number; toUs: number } {
  const { track } = streams
  const middleUs = (edge.loUs + edge.hiUs) / 2
  const atPa = pressureAt(track, middleUs)
  const away = (i: number) => Math.abs(track.of.pressurePa[i]! - atPa) > share * streams.ratedPa
  const middle = indexAt(track, middleUs)
  let from = middle
  while (from > 0 && !away(from - 1)) from--
  let to = middle
  while (to < track.length && !away(to)) to++
  const { tUs } = track.of
  return { fromUs: tUs[from] ?? middleUs, toUs: tUs[to - 1] ?? middleUs }
}

/** The readings between two moments, as a ramp sees them. */
export function samplesBetween({ track, fresh, unevenUs }: Streams, fromUs: number, toUs: number): RampSample[] {
  const out: RampSample[] = []
  let [count, sumUs, sumPa, firstUs, extraVar] = [0, 0, 0, 0, 0]
  const push = () => {
    if (count > 0) out.push({ tS: sumUs / count / 1e6, pressurePa: sumPa / count, extraVar })
  }
  const { of, length } = fresh
  for (let i = indexAt(fresh, fromUs); i < length && of.tUs[i]! <= toUs; i++) {
    const tUs = of.tUs[i]!
    if (count === 0 || tUs - firstUs >= finestS * 1e6) {
      push()
      count = sumUs = sumPa = 0
      firstUs = tUs
      extraVar = 0
    }
    const late = lateVar(track, tUs, Math.max(of.halfUs[i]!, unevenUs))
    extraVar = Math.max(extraVar, of.extraVar[i]! + late)
    count++
    sumUs += tUs
    sumPa += of.pressurePa[i]!
  }
  push()
  return out
}

/** Why a cycle is void, whatever its role; null for a sound one. `trips` are its make and break where it has them. */
export function voidReason(cycle: Cycle, trips: readonly Trip[], streams: Streams): WhyNot | null {
  if (cycle.why) return cycle.why
  if (streams.unitChangedUs !== null && streams.unitChangedUs <= cycle.span.endUs) return 'unit-changed'
  if (isFrozen(streams.track, cycle.span, cycle.edges, streams.digitPa, streams.pressureIntervalS)) return 'frozen'
  if (streams.unknownUs.some((s) => s.fromUs < cycle.span.endUs && s.toUs > cycle.span.startUs)) return 'gap'
  if (trips.some((t) => hasGap(t, streams))) return 'gap'
  if (chatters(cycle, streams.ratedPa, streams.track)) return 'chatter'
  if (trips.some((t) => reversesBefore(cycle, t, streams))) return 'reversal'
  if (trips.some((t) => isTooFast(t, streams))) return 'too-fast'
  if (isUnheard(cycle, streams)) return 'gap'
  if (cycle.make === null) return 'no-make'
  return cycle.break === null ? 'no-break' : null
}

/** Whether no contact reading at all lies in the stroke: the meter was lost, and what the contact did is not known. */
function isUnheard({ span }: Cycle, { contact }: Streams): boolean {
  const next = indexAt(contact, span.startUs)
  return next === contact.length || contact.of.tUs[next]! > span.endUs
}

function hasGap(trip: Trip, streams: Streams): boolean {
  const { loUs, hiUs } = trip.edge
  if (hiUs - loUs > gapUs(streams.contactIntervalS)) return true
  const nearUs = criteria.linkBreakUs
  if (streams.linkBreaksUs.some((tUs) => tUs > loUs - nearUs && tUs < hiUs + nearUs)) return true
  const limitUs = gapUs(streams.pressureIntervalS)
  const { track } = streams
  const first = Math.max(1, indexAt(track, loUs - criteria.gapLeadUs))
  const { tUs } = track.of
  for (let i = first; i < track.length && tUs[i - 1]! < hiUs; i++) if (tUs[i]! - tUs[i - 1]! > limitUs) return true
  return false
}

/** Earliest moment in pressure time (µs) at which the trip may have been; the start of its contact interval where no kick tells. */
export function tripMomentUs(trip: Trip): number {
  const first = trip.kick ? plausibleCells(trip)[0] : undefined
  return first ? Math.min(trip.edge.loUs, (first.tS - first.widthS) * 1e6) : trip.edge.loUs
}

/** The moments that the readings around the kick do not rule out. */
function plausibleCells({ surface }: Trip): TripCell[] {
  const likes = surface.cells.map((c) => Math.max(...c.logLiks))
  const least = Math.max(...likes) - criteria.plausibleLogLik
  return surface.cells.filter((_, i) => likes[i]! > least)
}

/** Whether the pressure turned back before a trip and near to it. When it tripped is known: what lies before is no kick. */
function reversesBefore(cycle: Cycle, trip: Trip, streams: Streams): boolean {
  const { transition } = trip
  const untilUs = tripMomentUs(trip)
  const fromUs = transition === 'make' ? cycle.span.startUs : (topOf(streams.track, cycle)?.tUs ?? untilUs)
  const tripPa = pressureAt(streams.track, untilUs)
  return turnsBack(streams.track, { transition, fromUs, untilUs, tripPa, kickFromUs: untilUs }, streams)
}

/** Whether the pressure went on so far while the contact changed that where in between it tripped is not known well enough. */
function isTooFast(trip: Trip, streams: Streams): boolean {
  const { loUs, hiUs } = trip.edge
  const sign = trip.transition === 'make' ? 1 : -1
  const onPa = pressureAt(streams.track, hiUs + streams.pressureIntervalS * 1e6) - pressureAt(streams.track, loUs)
  const wayPa = trip.kick
    ? tripRate(trip) * streams.pressureIntervalS
    : Math.max((tripRate(trip) * (hiUs - loUs)) / 1e6, sign * onPa)
  return wayPa / Math.sqrt(12) > criteria.tooFastShare * streams.halfTolerancePa
}

/** The steepest way up to a make or down to a break where it may have been, Pa/s: a hand that opens the vent is slow just before. */
function tripRate(trip: Trip): number {
  const { cells } = trip.surface
  const sign = trip.transition === 'make' ? 1 : -1
  const atS = tripMomentUs(trip) / 1e6
  const near = cells.findLast((c) => c.tS <= atS) ?? cells[0]
  // A kick goes the other way.
  const there = trip.kick ? plausibleCells(trip) : cells.filter((c) => c.tS > trip.loS && c.tS < trip.hiS)
  return Math.max(Math.abs(near?.smooth.vPaPerS ?? 0), ...there.map((c) => sign * c.smooth.vPaPerS))
}
