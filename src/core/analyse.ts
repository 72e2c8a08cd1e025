// A run into everything that its verdict rests on: zero, strokes, cycles, trips, lag, estimates. Order of the stages only.

import { criteria } from './criteria.table.ts'
import type { Run } from './intake/run.ts'
import { findStrokes, type Stroke } from './intake/stroke-tracker.ts'
import { cautionsReadUs } from './model/cautions.ts'
import type { WhyNot } from './model/result.ts'
import type { PortName } from './model/rig.ts'
import { type Contact, isInRange, type Track } from './model/samples.ts'
import { toArray } from './model/series.ts'
import type { Setup } from './model/setup.ts'
import { type DisplayBound, displayBound, mostLateS } from './signal/display-bound.ts'
import { placeRun } from './signal/placed-run.ts'
import { medianIntervalS, pressureAt, samplesInCommon, zeroedTrack } from './signal/pressure-track.ts'
import { type Quality, qualitiesOf } from './signal/quality.ts'
import { stillLossPaPerS } from './signal/still-loss.ts'
import { type SwitchEnd, switchEndOf } from './signal/switch-end.ts'
import { findUnitJump, settledAfter } from './signal/unit-jump.ts'
import { findZero, type Zero, zeroAt } from './signal/zero.ts'
import { median } from './statistics/mean.ts'
import { scatterAboutTrend } from './statistics/scatter-about-trend.ts'
import { type ContactResistance, contactResistance } from './strokes/contact-resistance.ts'
import { type Cycle, findCycles } from './strokes/cycles.ts'
import { type Edge, findEdges } from './strokes/edges.ts'
import { type BlindKick, blindKick } from './trips/blind-kick.ts'
import type { SessionFit } from './trips/fit.ts'
import { estimateSession, type LagResult } from './trips/lag/lag.ts'
import { chooseRampModel, type RampModel, type WeighedStretch } from './trips/ramp.ts'
import { responsesOf } from './trips/response.ts'
import type { TripInput, TripValue } from './trips/trip-moment.ts'
import { locateTrip, pressureStream, type Streams, sessionStretches, type Trip, voidReason } from './trips/trips.ts'
import { type TypedHold, typedHolds, typedLossPaPerS, typedZero } from './typed/typed-rests.ts'
import { type TypedCycle, type Typing, typedCycle, typedFit, typedKickPa, typingOf } from './typed/typed-session.ts'
import { type TypedTrips, typedStrokes, typedTrips } from './typed/typed-strokes.ts'
import { allowancesOf } from './uncertainty/allowance.ts'
import { type Measurand, type Measured, measure } from './uncertainty/budget.ts'
import { type MeasuredContact, measureContact } from './uncertainty/contact.ts'
import { type HighContact, highContact } from './uncertainty/high-contact.ts'
import { lineRecord } from './uncertainty/line-record.ts'
import { type LineProof, proveLine } from './uncertainty/prove-line.ts'

/** A cycle with its located trips, its lag-freed values, and whether it counts. */
export type JudgedCycle = Cycle & {
  makeTrip: Trip | null
  breakTrip: Trip | null
  makeValue: TripValue | null
  breakValue: TripValue | null
  used: boolean
  reason: WhyNot | null
}

export type Analysis = {
  setup: Setup
  run: Run
  zero: Zero
  quality: Partial<Record<PortName, Quality>>
  track: Track
  contact: Contact
  streams: Streams
  edges: Edge[]
  strokes: Stroke[]
  /** The stroke in progress at the end; null where vented. */
  openStroke: Stroke | null
  cycles: JudgedCycle[]
  /** How the pressures were typed, and where; null where the manometer sends them. */
  typed: (Typing & TypedTrips & { holds: readonly TypedHold[] }) | null
  /** Of each stroke, the one in progress too, where the contact never changed; else none. */
  blindKicks: BlindKick[]
  bound: DisplayBound
  stretches: WeighedStretch[]
  ramp: RampModel
  fit: SessionFit | null
  lag: LagResult
  /** What a second manometer showed at the switch end, and what it says of the line; null where there is none, or it saw too little. */
  switchEnd: SwitchEnd | null
  lineProof: LineProof | null
  measured: Record<Measurand, Measured>
  resistance: ContactResistance
  measuredContact: MeasuredContact
  /** Its readings above the part's limit; null where the part states none. */
  highContact: HighContact | null
}

/**
 * The analysis of a run that has begun. `before`: one of the same run when less was known of it; what has not changed of a stroke
 * since is taken from there, and comes out the same without it.
 */
export function analyse(run: Run, setup: Setup, before: Analysis | null = null): Analysis {
  const { rating, rig } = setup
  const { ratedPa } = rating
  const marks = toArray(run.marks)
  const { raw, contact, placings, breaksUs } = placeRun(run, setup)
  const readings = toArray(run.typed)
  const typing = typingOf(rig, readings, ratedPa)
  const edges = findEdges(contact, rig.pair)
  const zeroMarksUs = marks.filter((m) => m.mark === 'zero').map((m) => m.tUs)
  const zero = typing
    ? typedZero(readings, edges, typing.digitPa, ratedPa)
    : findZero(raw, zeroMarksUs, rig.digitPa, ratedPa, run.end !== null)
  const track = zeroedTrack(raw, zero, rig.digitPa)
  const switchEnd = switchEndOf(run, setup, zeroMarksUs, track)
  const wild = raw.where((i) => isInRange(raw.of.rawPa[i]!)).length - track.length
  const quality = qualitiesOf(run.ports, {
    meter: { placing: placings.contact, implausible: 0 },
    manometer: { placing: placings.pressure, implausible: wild },
    'manometer-2': switchEnd && { placing: switchEnd.placing, implausible: switchEnd.wild },
  })
  const trips = typing && typedTrips(edges, readings)
  const typedAt = (edge: Edge) => {
    const reading = trips?.at.get(edge)
    return reading ? reading.rawPa - zeroAt(zero, reading.tUs) : null
  }
  const { strokes, open } = typing ? typedStrokes(edges, typedAt, run.end !== null) : findStrokes(track, ratedPa)
  const stream = pressureStream(track, zero.noisePa, rig.digitPa, ratedPa)
  const atEdge = (edge: Edge | null) => edge && pressureAt(track, (edge.loUs + edge.hiUs) / 2)
  const found = findCycles({ strokes, open }, edges, marks, cautionsReadUs(setup.start.purpose, marks))
  const shapes = found.map(({ span, make, break: back }) => ({ ...span, makePa: atEdge(make), breakPa: atEdge(back) }))
  const unitJump = findUnitJump(track, shapes, (tUs) => settledAfter(contact, tUs, rig.pair), ratedPa)
  const sizes = { noisePa: zero.noisePa, digitPa: rig.digitPa, ratedPa }
  const seen = before && { bound: before.bound, samples: samplesInCommon(track, before.track) }
  const bound = displayBound(track, strokes, sizes, { readings: stream.renewed, edges }, seen)
  const streams: Streams = {
    ...stream,
    answers: responsesOf({ ...bound, coarse: stream.coarse }),
    displayLateS: { make: mostLateS(bound.rise), break: mostLateS(bound) },
    contact,
    contactIntervalS: Math.max(medianIntervalS(contact), keyedS(setup)),
    linkBreaksUs: breaksUs.map((l) => l.tUs),
    unknownUs: [...toArray(run.sleeps), ...(zero.vents?.jumps ?? [])],
    unitChangedUs:
      run.ports.find((p) => p.name !== 'manometer-2' && p.unitChangedUs !== null)?.unitChangedUs ??
      unitJump?.tUs ??
      null,
    digitPa: rig.digitPa,
    ratedPa,
    halfTolerancePa: rating.halfTolerancePa,
    pair: rig.pair,
  }
  const stretches = sessionStretches(found, streams, before?.stretches)
  const ramp = chooseRampModel(stretches, streams.noisePa)
  const known = new Map(before?.cycles.map((cycle) => [cycle.span.startUs, cycle]))
  const line = lineRecord(setup)
  const bench = typing &&
    trips && { typing, ratedPa, at: trips.at, zero, line, kickPa: typedKickPa(trips), ...silencesOf(streams) }
  const judged = found.map((cycle) =>
    bench ? countedCycle(typedCycle(cycle, bench)) : judgeCycle(cycle, streams, ramp, known.get(cycle.span.startUs)),
  )
  const isBlind = contact.length > 0 && found.every((cycle) => cycle.edges.length === 0)
  const blind = isBlind ? [...strokes, ...(open ? [open] : [])] : []
  const kicked = new Map(before?.blindKicks.map((kick) => [kick.startUs, kick]))
  const blindKicks = blind.map((span) => blindKick(span, streams, ramp, kicked.get(span.startUs)))
  const inputs = judged.flatMap((cycle) => tripInputs(cycle))
  const used = judged.filter((c) => c.used)
  const { fit, lag } = bench
    ? typedFit(used, bench)
    : estimateSession(
        inputs.map((i) => i.input),
        { lag: rig.lag, line },
        streams,
        ratedPa,
      )
  inputs.forEach(({ cycle, transition }, i) => {
    const value = fit?.values[i] ?? null
    if (transition === 'make') cycle.makeValue = value
    else cycle.breakValue = value
  })
  const holds = typing ? typedHolds(readings, edges, ratedPa, zero) : []
  const stillPaPerS = typing ? typedLossPaPerS(holds, typing.reactionS) : stillLossPaPerS(track, strokes, sizes)
  const values = { make: used.flatMap((c) => c.makeValue ?? []), break: used.flatMap((c) => c.breakValue ?? []) }
  const ratePaPerS = { make: meanRate(values.make), break: meanRate(values.break) }
  const lineProof = proveLine(
    { manometer: rig, zero, track, dampingS: Math.max(bound.dampingS, bound.rise.dampingS) },
    switchEnd,
    judged,
    lag.dated,
  )
  const allowances = allowancesOf({
    hose: lag.hose,
    // What this test shows counts before what another one has shown.
    lossPaPerS: stillPaPerS ?? line?.leakPaPerS ?? null,
    makePa: fit?.make?.valuePa ?? null,
    breakPa: fit?.break?.valuePa ?? null,
    kickPa: median(judged.flatMap((c) => (c.makeTrip?.kick ? [c.makeTrip.surface.kick.sizePa] : []))),
    proof: lineProof,
  })
  const measured = measure({
    fit,
    zero,
    rig,
    resolutionPa: streams.resolutionPa,
    ratePaPerS,
    allowances,
    typing,
    lagDof: lagDofOf(fit, lag),
    scatterPa: {
      make: scatterAboutTrend(values.make.map((v) => v.valuePa)),
      break: scatterAboutTrend(values.break.map((v) => v.valuePa)),
      differential: scatterAboutTrend(used.flatMap(differentialOf)),
    },
  })
  const resistance = contactResistance(contact, edges, rig, streams.contactIntervalS, mustConduct(track, setup))
  return {
    setup,
    run,
    zero,
    quality,
    track,
    contact,
    streams,
    edges,
    strokes,
    openStroke: open,
    cycles: judged,
    typed: typing && trips && { ...typing, ...trips, holds },
    blindKicks,
    bound,
    stretches,
    ramp,
    fit,
    lag,
    switchEnd,
    lineProof,
    measured,
    resistance,
    measuredContact: measureContact(resistance, rig),
    highContact: highContact(resistance, rig, rating.maxOhm),
  }
}

/** Where the pressure alone says that the wired pair is closed: COM–NO beyond its high make limit (else the peak), COM–NC at rest. */
function mustConduct(track: Track, { rating, rig }: Setup): (tUs: number) => boolean {
  const madePa = rating.limits.make?.highPa ?? criteria.peakShare * rating.ratedPa
  const restPa = criteria.ventedShare * rating.ratedPa
  return (tUs) => {
    const pa = pressureAt(track, tUs)
    return rig.pair === 'com-nc' ? Math.abs(pa) < restPa : pa > madePa
  }
}

/** A key comes as late as whoever hears the contact; 0 where a meter sends it, s. */
const keyedS = ({ rig: { typed } }: Setup): number =>
  typed.contact ? (typed.contact.reactionS ?? criteria.reactionS) : 0

/** Stretches of which the contact is not known: the machine slept, or the meter's cable was off. */
function silencesOf({ contactIntervalS, unknownUs, linkBreaksUs }: Streams) {
  const breaks = linkBreaksUs.map((tUs) => ({ fromUs: tUs - criteria.linkBreakUs, toUs: tUs + criteria.linkBreakUs }))
  return { contactIntervalS, unknownUs: [...unknownUs, ...breaks] }
}

function judgeCycle(cycle: Cycle, streams: Streams, ramp: RampModel, before?: JudgedCycle): JudgedCycle {
  const makeTrip = cycle.make && locateTrip(cycle, cycle.make, streams, ramp, before?.makeTrip ?? null)
  const breakTrip = cycle.break && locateTrip(cycle, cycle.break, streams, ramp, before?.breakTrip ?? null)
  const trips = [makeTrip, breakTrip].filter((t) => t !== null)
  const fault = voidReason(cycle, trips, streams)
  return { ...countedCycle({ ...cycle, why: fault, makeValue: null, breakValue: null }), makeTrip, breakTrip }
}

/** The cycle, whether it counts, and why not: void, or by its role. */
function countedCycle(cycle: TypedCycle): JudgedCycle {
  const fault = cycle.why
  // A stroke that conditions the part and was discarded shows that it was.
  const dropped = cycle.role === 'precondition' && fault === 'discarded'
  const reason = cycle.role === 'counted' || dropped ? fault : cycle.role
  return { ...cycle, makeTrip: null, breakTrip: null, used: reason === null, reason }
}

/** Reasons that spoil the timing of a trip, not only its meaning: such trips do not help to find the lag either. */
const spoilt: readonly (WhyNot | null)[] = ['gap', 'frozen', 'unit-changed', 'chatter', 'reversal', 'discarded']

function tripInputs(cycle: JudgedCycle): { cycle: JudgedCycle; transition: 'make' | 'break'; input: TripInput }[] {
  if (spoilt.includes(cycle.why)) return []
  return [cycle.makeTrip, cycle.breakTrip].flatMap((trip) => {
    if (!trip || trip.surface.cells.length === 0) return []
    const { transition, edge, loS, hiS, surface, kick } = trip
    const input = { transition, counted: cycle.used, closes: edge.closes, loS, hiS, surface, kick }
    return [{ cycle, transition, input: { ...input, dated: false, contactBlind: false } }]
  })
}

function differentialOf({ makeValue, breakValue }: JudgedCycle): number[] {
  return makeValue && breakValue ? [makeValue.valuePa - breakValue.valuePa] : []
}

/**
 * A lag told by the rates alone is as well known as the scatter that it is found from: JCGM 100:2008, G.4.1. Kicks date the
 * trips by a noise that many readings tell.
 */
function lagDofOf(fit: SessionFit | null, { source, dated }: LagResult): number | null {
  if (fit === null || source !== 'estimated' || dated) return null
  const [make, back] = [fit.make?.n, fit.break?.n]
  return Math.max(1, Math.min(make ?? Infinity, back ?? Infinity) - 1)
}

function meanRate(values: readonly TripValue[]): number {
  return values.length === 0 ? 0 : values.reduce((sum, v) => sum + v.ratePaPerS, 0) / values.length
}
