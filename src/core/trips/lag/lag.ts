// Which knowledge of the rig's lag goes into the fit: the session's own kicks and rates, the rig's record, or only the intervals.
import { criteria } from '../../criteria.table.ts'
import type { Pair } from '../../model/pair.ts'
import type { RigSpec } from '../../model/rig.ts'
import type { Track } from '../../model/samples.ts'
import { median } from '../../statistics/mean.ts'
import { normalQuantile } from '../../statistics/normal.ts'
import { fitSession, type LagEstimate, type SessionFit } from '../fit.ts'
import { mostDelayS, type Response } from '../response.ts'
import { agreementOf } from '../timing.ts'
import type { TripInput } from '../trip-moment.ts'
import { behindHose } from './behind-hose.ts'
import { freeOfHose, type HoseLags, hoseAtPace, hoseLags, hoseShown } from './hose.ts'
import { type MeterDelay, meterDelay } from './meter-delay.ts'

export type LagResult = LagEstimate & {
  source: 'estimated' | 'prior' | 'declared' | 'none'
  /** The rig's lag that the data contradicted and that was dropped; null where none was. */
  droppedS: number | null
  /** What the paces show of the hose between tee and switch, and what they do not exclude. */
  hose: HoseLags
  /** The meter's extra delay at closing, taken out of the lag. */
  meterDelay: MeterDelay | null
  /** Kicks date the trips of the session. */
  dated: boolean
}

type Streams = {
  track: Track
  pressureIntervalS: number
  contactIntervalS: number
  noisePa: number
  pair: Pair
  coarse: boolean
  answers: readonly Response[]
  displayLateS: { make: number; break: number }
}

/**
 * The fit of a session and the lag it used. The data speak first, alone; they are combined with the rig's lag by inverse
 * variance unless the two conflict. Where the data say less than the prior, the prior stands alone; without one, it is
 * N(0, ½(Tp + Tc)) from the median intervals of the two streams.
 */
export function estimateSession(
  given: readonly TripInput[],
  { lag: known, line }: Pick<RigSpec, 'lag'> & { line: RigSpec['proved'] },
  streams: Streams,
  ratedPa: number,
): { fit: SessionFit | null; lag: LagResult } {
  const fallback = { valueS: 0, uS: (streams.pressureIntervalS + streams.contactIntervalS) / 2 || 0.5 }
  const prior: LagEstimate = known ?? fallback
  const source = known === null ? 'none' : known.n === null ? 'declared' : 'prior'
  const shown = dateByKicks(given, streams.noisePa)
  const anyKick = shown.some((t) => t.dated)
  // A network's readings are all in one range: its meter never hunts. The crossings of a coarse digit are too sparse to tell.
  const late = anyKick && !streams.coarse && streams.pair !== 'network' ? meterDelay(shown) : null
  const agree = anyKick && (agreementOf(shown) >= criteria.agreeingShare || (late !== null && openingsAgree(shown)))
  const kicked = late ? shown.map((t) => ({ ...t, contactBlind: t.dated && t.closes })) : shown
  const byKick = agree ? fitSession(kicked, null, ratedPa) : null
  const useKick = agree && (byKick === null || isPossible(byKick.lag, streams))
  const delay = useKick ? late : null
  const trips = useKick ? kicked : shown.map((t) => ({ ...t, dated: false }))
  const nothing = { droppedS: null, hose: hoseAtPace(0, criteria.mostLagS), meterDelay: delay, dated: useKick }
  // Between the sparse crossings of a coarse digit the rates tell nothing of the lag: there it is the prior's.
  const untold = !useKick && streams.coarse
  const first = untold
    ? atPrior(fitSession(trips, { ...prior, uS: exactS }, ratedPa), trips, prior.uS)
    : useKick
      ? byKick
      : fitSession(trips, prior, ratedPa)
  if (first === null) return { fit: null, lag: { ...prior, source, ...nothing } }
  const withRig = known !== null && useKick && !conflict(first.lag, known) ? fitSession(trips, known, ratedPa) : null
  const fit = withRig ?? first
  const tripsBehind = fit.values.map((value, i) => {
    return { input: trips[i]!, value, behind: behindHose(streams.track, value.seen) }
  })
  const displayS = (transition: 'make' | 'break') =>
    useKick
      ? beyondKickS(fit.lag, streams.displayLateS[transition])
      : reckonedS(Math.max(mostDelayS(streams.answers), streams.displayLateS[transition]))
  const hose = hoseLags(tripsBehind, {
    hoseS: mostHoseS(line),
    displayS: { make: displayS('make'), break: displayS('break') },
    // Without a kick the meter may be late too.
    shapes: useKick ? ['hose', 'orifice'] : ['hose', 'orifice', 'delay'],
    known: useKick ? null : { uS: prior.uS, recorded: known !== null },
    taken: !streams.coarse,
  })
  const freed = freeOfHose(fit, tripsBehind, hose, useKick)
  const shows = useKick || hoseShown(hose) !== null
  const alone = useKick ? first.lag : freed.lag
  const droppedS = known !== null && shows && conflict(alone, known) ? known.valueS : null
  return {
    fit: freed,
    lag: { ...(shows ? freed.lag : prior), source: shows ? 'estimated' : source, ...nothing, hose, droppedS },
  }
}

/**
 * A display that is later than its stops and vents, its readings and what it takes to send them allow shows no kick: what was taken for one is
 * the hand's. It need not be possible on the slower way: of a display that differs so much no kick is sure.
 */
const isPossible = ({ valueS, uS }: LagEstimate, { displayLateS, pressureIntervalS }: Streams): boolean =>
  valueS + criteria.coverageFactor * uS >=
  -(Math.min(displayLateS.make, displayLateS.break) + pressureIntervalS + criteria.displaySendsS)

/**
 * How much later than a kick says a display may be, s. A kick sees a quick display just as the ramp does. Behind a slow one a kick that fades
 * looks like one that stays behind a quicker one: then the display may be as late as its stops and vents leave open;
 * from the one to the other it goes by degrees.
 */
const beyondKickS = ({ valueS }: LagEstimate, displayLateS: number): number =>
  Math.max(
    0,
    Math.min(reckonedS(displayLateS + valueS), criteria.kickDisplayTimes * (displayLateS - criteria.kickDisplayS)),
  )

/** Where nothing bounds a display, the longest delay that is thought of; what a stop or a vent shows it may be as late as that, s. */
const reckonedS = (lateS: number): number =>
  Math.min(lateS, Number.isFinite(lateS) ? criteria.mostLagS : criteria.mostDisplayS)

/** A lag that is not moved by the rates, s. */
const exactS = 1e-3

/** A fit at one lag with what `uS` of that lag makes of it: make and break go opposite ways, so the differential moves by both. */
function atPrior(fit: SessionFit | null, trips: readonly TripInput[], uS: number): SessionFit | null {
  if (fit === null) return null
  const rateOf = (transition: 'make' | 'break') => {
    const rates = fit.values.flatMap((v, i) =>
      trips[i]!.counted && trips[i]!.transition === transition ? [v.ratePaPerS] : [],
    )
    return rates.reduce((sum, rate) => sum + rate / rates.length, 0)
  }
  const [up, down] = [rateOf('make'), rateOf('break')]
  return {
    ...fit,
    lag: { ...fit.lag, uS },
    make: fit.make && { ...fit.make, lagU: up * uS },
    break: fit.break && { ...fit.break, lagU: down * uS },
    differentialLagU: (up + down) * uS,
  }
}

/** A meter that hunts for its range is late by another time at each closing: then only the openings can agree, on kicks of their own. */
function openingsAgree(trips: readonly TripInput[]): boolean {
  const openings = trips.filter((t) => !t.closes)
  const kicked = openings.filter((t) => t.kick)
  const { datingTrips, openingsShare } = criteria
  return (
    openings.length >= datingTrips &&
    kicked.length >= openingsShare * openings.length &&
    agreementOf(openings) >= openingsShare
  )
}

/** The longest lag of the hose that its record does not exclude (one-sided 95 %), s. */
export function mostHoseS(line: RigSpec['proved']): number {
  if (line === null || line.hoseS === null || line.uHoseS === null) return criteria.mostLagS
  return Math.min(criteria.mostLagS, line.hoseS + normalQuantile(criteria.allowanceProbability) * line.uHoseS)
}

/** The lag of a session against that of its rig's record. */
const conflict = (lag: LagEstimate, known: LagEstimate) =>
  Math.abs(lag.valueS - known.valueS) > criteria.lagConflictSds * Math.hypot(lag.uS, known.uS)

/**
 * The trips, and whether kicks date this session. One kick may hide in the noise; together the makes or the breaks of a
 * session show theirs, and then no ramp is drawn through any trip. Since the diaphragm jumps both ways, no kick is taken for one
 * where the others go the wrong way: a hand that quickens past the make is none. Nor where their sizes differ as much as what late lines
 * make of a hand's corner.
 */
function dateByKicks(trips: readonly TripInput[], noisePa: number): TripInput[] {
  const groups = (['make', 'break'] as const).map((transition) => trips.filter((t) => t.transition === transition))
  const dated = groups.some((group) => kicksTell(group, noisePa)) && groups.every((group) => kickPa(group) >= 0)
  return trips.map((t) => ({ ...t, dated }))
}

/** The kick of a typical trip, Pa; below 0 where it goes the wrong way, 0 where there is no trip. */
const kickPa = (trips: readonly TripInput[]) => median(trips.map((t) => t.surface.kick.sizePa)) ?? 0

function kicksTell(trips: readonly TripInput[], noisePa: number): boolean {
  const { datingTrips, datingEvidence, datingNoises, datingScatter } = criteria
  const evidence = median(trips.map((t) => t.surface.kick.evidence)) ?? 0
  const typicalPa = kickPa(trips)
  const scatterPa = median(trips.map((t) => Math.abs(t.surface.kick.sizePa - typicalPa))) ?? 0
  return (
    trips.length >= datingTrips &&
    evidence > datingEvidence &&
    typicalPa > datingNoises * noisePa &&
    scatterPa < datingScatter * typicalPa
  )
}
