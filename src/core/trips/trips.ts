// Cycles into trips ready for the fit: the readings around each edge, how likely each moment is, and why a cycle is void.

import { restFraction } from '../intake/stroke-tracker.ts'
import type { Pair } from '../model/pair.ts'
import type { WhyNot } from '../model/result.ts'
import type { TrackSample } from '../model/samples.ts'
import { type FreshSample, freshness, freshReadings } from '../signal/fresh-readings.ts'
import { medianIntervalS, pressureAt } from '../signal/pressure-track.ts'
import { indexAt } from '../statistics/index-at.ts'
import { type Cycle, chatters } from '../strokes/cycles.ts'
import type { Edge } from '../strokes/edges.ts'
import { kickSeen, type TripSurface, tripSurface } from './kick.ts'
import { chooseRampModel, type RampModel, type RampSample } from './ramp.ts'

export type Trip = {
  stroke: number
  transition: 'make' | 'break'
  edge: Edge
  loS: number
  hiS: number
  surface: TripSurface
  kick: boolean
}

export type Streams = {
  track: readonly TrackSample[]
  /** The readings of the track that carry news: what a ramp is drawn through. */
  fresh: readonly FreshSample[]
  contact: readonly { tUs: number }[]
  /** Median intervals of the two streams, s. */
  pressureIntervalS: number
  contactIntervalS: number
  linkBreaksUs: readonly number[]
  unitChangedUs: number | null
  noisePa: number
  /** The digit is coarser than what the ramp does between readings: too little is seen to learn a lag from rates. */
  coarse: boolean
  /** How finely the moving pressure is read, Pa. */
  resolutionPa: number
  digitPa: number
  ratedPa: number
  halfTolerancePa: number
  pair: Pair
}

/** How far the kick may stand before and after the contact's interval, s: the lags of hose, manometer and meter together. */
const searchBackS = 2.5
const searchOnS = 1.2
/** Readings taken in on either side of the search, s: enough for the rate of a slow hand to settle. */
const leadS = 4
const tailS = 1.5
/** The stretch ends where the pressure has left the trip's by this share of S: a quick stroke or a vent is no part of it. */
const reachShare = 0.3
/** The hand's steadiness is read this near the trip: farther off it may still be quick. */
const paceShare = 0.12
/** Streams faster than this are averaged to it, s: at 5 Pa/s it costs 0.06 Pa of a single trip. */
const finestS = 0.04

/** A crossing of a coarse digit is known far better than the digit: to a few hundredths of it, what the ramp does between readings. */
const crossingShare = 0.04

/**
 * The pressure stream as a ramp sees it. `intervalS`: between readings, or between renewals of a display that repeats itself;
 * `noisePa`: of one fresh reading.
 */
export function pressureStream(track: readonly TrackSample[], noisePa: number, digitPa: number, ratedPa: number) {
  const kind = freshness(track, digitPa, restFraction * ratedPa)
  const fresh = freshReadings(track, digitPa, kind)
  return {
    track,
    fresh,
    pressureIntervalS: medianIntervalS(kind === 'refreshed' ? fresh : track),
    noisePa: kind === 'digit-steps' ? digitPa * crossingShare : noisePa,
    resolutionPa: kind === 'digit-steps' ? 2 * digitPa * crossingShare : digitPa,
    coarse: kind === 'digit-steps',
  }
}

/** The ramp model of the session, from the readings before each trip; from whole rises in strokes that have none. */
export function sessionRamp(cycles: readonly Cycle[], streams: Streams): RampModel {
  const stretches = cycles.flatMap((cycle) => {
    if (!cycle.make && !cycle.break) return [samplesBetween(streams, cycle.span.startUs, cycle.span.peakUs)]
    return [cycle.make, cycle.break].flatMap((edge) => {
      if (!edge) return []
      // Ends half a second short of the trip: the kick is no part of the hand.
      const endUs = edge.loUs - 0.5e6
      const near = nearTrip(edge, streams, paceShare)
      return [samplesBetween(streams, Math.max(near.fromUs, endUs - leadS * 1e6), endUs)]
    })
  })
  return chooseRampModel(stretches, streams.noisePa)
}

/** The trip of `edge`, with the likelihood of each moment in the pressure stream. */
export function locateTrip(cycle: Cycle, edge: Edge, streams: Streams, model: RampModel): Trip {
  const transition = edge.to ? 'make' : 'break'
  const back = Math.max(searchBackS, 1.5 * (streams.pressureIntervalS + streams.contactIntervalS))
  // A make lies on the way up and a break on the way down: the search does not cross the peak or leave the stroke.
  const near = nearTrip(edge, streams, reachShare)
  const earliestUs = Math.max(near.fromUs, edge.to ? cycle.span.startUs - 1e6 : cycle.span.peakUs)
  const latestUs = Math.min(near.toUs, edge.to ? cycle.span.peakUs + 0.5e6 : cycle.span.endUs + 1e6)
  const fromUs = Math.max(edge.loUs - back * 1e6, earliestUs)
  const toUs = Math.max(fromUs, Math.min(edge.hiUs + searchOnS * 1e6, latestUs))
  const samples = samplesBetween(
    streams,
    Math.max(fromUs - leadS * 1e6, earliestUs),
    Math.min(toUs + tailS * 1e6, near.toUs),
  )
  const direction = edge.to ? 1 : -1
  const surface = tripSurface(samples, fromUs / 1e6, toUs / 1e6, direction, model, restFraction * streams.ratedPa)
  return {
    stroke: cycle.stroke,
    transition,
    edge,
    loS: edge.loUs / 1e6,
    hiS: edge.hiUs / 1e6,
    surface,
    kick: kickSeen(surface, model),
  }
}

/** The unbroken stretch of time about an edge in which the pressure stays near that of the edge. */
function nearTrip(edge: Edge, streams: Streams, share: number): { fromUs: number; toUs: number } {
  const { track } = streams
  const middleUs = (edge.loUs + edge.hiUs) / 2
  const atPa = pressureAt(track, middleUs)
  const away = (i: number) => Math.abs(track[i]!.pressurePa - atPa) > share * streams.ratedPa
  const middle = indexAt(track, middleUs)
  let from = middle
  while (from > 0 && !away(from - 1)) from--
  let to = middle
  while (to < track.length && !away(to)) to++
  return { fromUs: track[from]?.tUs ?? middleUs, toUs: track[to - 1]?.tUs ?? middleUs }
}

function samplesBetween({ fresh }: Streams, fromUs: number, toUs: number): RampSample[] {
  const out: RampSample[] = []
  let [count, sumUs, sumPa, firstUs, extraVar] = [0, 0, 0, 0, 0]
  const push = () => {
    if (count > 0) out.push({ tS: sumUs / count / 1e6, pressurePa: sumPa / count, extraVar })
  }
  for (let i = indexAt(fresh, fromUs); i < fresh.length && fresh[i]!.tUs <= toUs; i++) {
    const sample = fresh[i]!
    if (count === 0 || sample.tUs - firstUs >= finestS * 1e6) {
      push()
      count = sumUs = sumPa = 0
      firstUs = sample.tUs
      extraVar = sample.extraVar
    }
    count++
    sumUs += sample.tUs
    sumPa += sample.pressurePa
  }
  push()
  return out
}

/** Why a cycle is void, whatever its role; null for a sound one. `trips` are its make and break where it has them. */
export function voidReason(cycle: Cycle, trips: readonly Trip[], streams: Streams): WhyNot | null {
  if (cycle.why) return cycle.why
  if (streams.unitChangedUs !== null && streams.unitChangedUs <= cycle.span.endUs) return 'unit-changed'
  if (isFrozen(cycle, streams)) return 'frozen'
  if (trips.some((t) => hasGap(t, streams))) return 'gap'
  if (chatters(cycle, streams.ratedPa, (tUs) => pressureAt(streams.track, tUs))) return 'chatter'
  if (trips.some((t) => reversesBefore(cycle, t, streams))) return 'reversal'
  if (trips.some((t) => isTooFast(t, streams))) return 'too-fast'
  if (cycle.make === null) return 'no-make'
  return cycle.break === null ? 'no-break' : null
}

// Three median intervals without a reading are a gap; never less than 0.3 s, since adapters deliver in bursts.
const gapIntervals = 3
const shortestGapS = 0.3

function hasGap(trip: Trip, streams: Streams): boolean {
  const { loUs, hiUs } = trip.edge
  if (hiUs - loUs > Math.max(gapIntervals * streams.contactIntervalS, shortestGapS) * 1e6) return true
  if (streams.linkBreaksUs.some((tUs) => tUs > loUs - 1e6 && tUs < hiUs + 1e6)) return true
  const limitUs = Math.max(gapIntervals * streams.pressureIntervalS, shortestGapS) * 1e6
  const { track } = streams
  const first = Math.max(1, indexAt(track, loUs - 0.5e6))
  for (let i = first; i < track.length && track[i - 1]!.tUs < hiUs; i++)
    if (track[i]!.tUs - track[i - 1]!.tUs > limitUs) return true
  return false
}

/** Moments this much less likely than the best may still be the trip's (log likelihood). */
const plausible = 6

/** Earliest moment in pressure time (µs) at which the trip may have been; the start of its contact interval where no kick tells. */
function tripMomentUs(trip: Trip): number {
  if (!trip.kick) return trip.edge.loUs
  const likes = trip.surface.cells.map((c) => Math.max(...c.logLiks))
  const best = Math.max(...likes)
  const first = trip.surface.cells.find((_, i) => likes[i]! > best - plausible)
  return first ? Math.min(trip.edge.loUs, (first.tS - first.widthS) * 1e6) : trip.edge.loUs
}

/** A reversal within 20 % of the trip before it: the pressure turned back by more than 2 % of S, noise or two digits. */
function reversesBefore(cycle: Cycle, trip: Trip, streams: Streams): boolean {
  const { track, ratedPa, noisePa, digitPa } = streams
  const endUs = tripMomentUs(trip)
  const sign = trip.transition === 'make' ? 1 : -1
  const startUs = sign === 1 ? cycle.span.startUs : cycle.span.peakUs
  const tripPa = pressureAt(track, endUs)
  const limitPa = Math.max(0.02 * ratedPa, 6 * noisePa, 2 * digitPa)
  let farthest = Number.NEGATIVE_INFINITY
  for (let i = indexAt(track, startUs); i < track.length && track[i]!.tUs < endUs; i++) {
    const value = sign * track[i]!.pressurePa
    if (farthest > sign * tripPa - 0.2 * tripPa && farthest - value > limitPa) return true
    farthest = Math.max(farthest, value)
  }
  return false
}

// The error that the sampling of one trip leaves decides, not a fixed speed: T/8 each is T/20 in the mean of six.
const tooFastShare = 1 / 8

function isTooFast(trip: Trip, streams: Streams): boolean {
  const rate = tripRate(trip)
  const intervalS = trip.kick ? streams.pressureIntervalS : (trip.edge.hiUs - trip.edge.loUs) / 1e6
  return (rate * intervalS) / Math.sqrt(12) > tooFastShare * streams.halfTolerancePa
}

function tripRate(trip: Trip): number {
  const { cells } = trip.surface
  const atS = tripMomentUs(trip) / 1e6
  const near = cells.findLast((c) => c.tS <= atS) ?? cells[0]
  return near ? Math.abs(near.smooth.vPaPerS) : 0
}

const frozenUs = 3e6

/**
 * Whether the display stood still for over 3 s while the pressure must have changed, and then leapt: the contact changed
 * meanwhile, or the leap makes up for the way the hand was going. A held hand that then vents does neither.
 */
function isFrozen(cycle: Cycle, streams: Streams): boolean {
  const { track, ratedPa, digitPa } = streams
  let still = indexAt(track, cycle.span.startUs)
  for (let i = still + 1; i < track.length && track[i]!.tUs <= cycle.span.endUs; i++) {
    const from = track[still]!
    const leapPa = track[i]!.pressurePa - from.pressurePa
    // Zero drifts linearly under the readings, so equal digits differ here by far less than one digit.
    if (Math.abs(leapPa) < 0.5 * digitPa) continue
    const stillUs = track[i - 1]!.tUs - from.tUs
    if (stillUs > frozenUs && Math.abs(leapPa) > Math.max(5 * digitPa, 0.05 * ratedPa)) {
      const ratePaPerUs = (from.pressurePa - pressureAt(track, from.tUs - 1e6)) / 1e6
      const owedPa = ratePaPerUs * stillUs
      const contactChanged = cycle.edges.some((e) => e.loUs > from.tUs && e.hiUs < track[i]!.tUs)
      if (contactChanged || (leapPa * owedPa > 0 && Math.abs(leapPa) > 0.5 * Math.abs(owedPa))) return true
    }
    still = i
  }
  return false
}
