// The strokes of a test whose pressures were typed into the value of each trip, and into make, break and lag as a session has them.
//
// Nobody saw the pressure between: there is no ramp, no kick and no pace. What a record would have told is allowed for instead.
import { criteria } from '../criteria.table.ts'
import type { WhyNot } from '../model/result.ts'
import type { RigSpec } from '../model/rig.ts'
import type { TypedReading } from '../model/typed.ts'
import { gapUs } from '../signal/silence.ts'
import { type Zero, zeroAt } from '../signal/zero.ts'
import { median, sampleSd } from '../statistics/mean.ts'
import type { Cycle } from '../strokes/cycles.ts'
import type { Edge } from '../strokes/edges.ts'
import type { QuantityFit, SessionFit } from '../trips/fit.ts'
import type { HoseLags } from '../trips/lag/hose.ts'
import { type LagResult, mostHoseS } from '../trips/lag/lag.ts'
import type { TripValue } from '../trips/trip-moment.ts'

/** How the pressures were typed: how late at most, s, at which pace at most, Pa/s, and to which digit, Pa. */
export type Typing = { reactionS: number; pacePaPerS: number; digitPa: number }

export type TypedCycle = Cycle & { makeValue: TripValue | null; breakValue: TripValue | null }

/** What the rig states of the typist, else the slowest reaction and the fastest pace that a hand keeps steady; null where the manometer sends. */
export function typingOf(rig: RigSpec, typed: readonly TypedReading[], ratedPa: number): Typing | null {
  const typist = rig.typed.pressure
  if (typist === null) return null
  return {
    reactionS: typist.reactionS ?? criteria.reactionS,
    pacePaPerS: (typist.paceShare ?? criteria.steadyShare) * ratedPa,
    digitPa: Math.max(rig.digitPa, ...typed.map(({ digitPa }) => digitPa)),
  }
}

type Bench = {
  typing: Typing
  ratedPa: number
  at: ReadonlyMap<Edge, TypedReading>
  zero: Zero
  line: RigSpec['proved']
  /** How far the kick may have moved the display by the time it is read. */
  kickPa: number
  contactIntervalS: number
  /** Moments of which the contact is not known. */
  unknownUs: readonly { fromUs: number; toUs: number }[]
}

/** No switch trips so far on the other side of zero: the sign is a slip. */
export const isWrongSign = (pressurePa: number, ratedPa: number): boolean => pressurePa < -criteria.restShare * ratedPa

/** The cycle with what was typed at its make and its break, and why it does not count. */
export function typedCycle(cycle: Cycle, bench: Bench): TypedCycle {
  const [makeValue, breakValue] = [tripValueOf('make', cycle.make, bench), tripValueOf('break', cycle.break, bench)]
  return { ...cycle, makeValue, breakValue, why: whyNot(cycle, makeValue, breakValue, bench) }
}

function tripValueOf(transition: 'make' | 'break', edge: Edge | null, bench: Bench): TripValue | null {
  const reading = edge && bench.at.get(edge)
  if (!edge || !reading) return null
  const { reactionS, pacePaPerS } = bench.typing
  const valuePa = reading.rawPa - zeroAt(bench.zero, reading.tUs)
  if (isWrongSign(valuePa, bench.ratedPa)) return null
  // Read late on the way up it is too high, on the way down too low, and to half a digit either way.
  const latePa = pacePaPerS * reactionS
  const halfPa = bench.typing.digitPa / 2
  const [belowPa, abovePa] = transition === 'make' ? [latePa, 0] : [0, latePa]
  const open = openPa(bench)
  return {
    valuePa,
    loPa: valuePa - belowPa - halfPa,
    hiPa: valuePa + abovePa + halfPa,
    sdPa: Math.hypot(latePa, halfPa) / Math.sqrt(3),
    ratePaPerS: pacePaPerS,
    seen: { tS: edge.hiUs / 1e6, shownPa: valuePa },
    takenPa: 0,
    open: transition === 'make' ? { lowPa: open.late, highPa: open.early } : { lowPa: open.early, highPa: open.late },
  }
}

/**
 * The most that a kick moves a display before it is read, Pa, where make and break were typed: it takes from the make what it adds
 * to the break, so they seem to lie nearer to each other than they do (trade rule: kick = D·Cd/(Cd + V/P0), as it begins × γ).
 */
export function typedKickPa({ at }: Pick<Bench, 'at'>): number {
  const [makes, breaks] = [true, false].map((to) => [...at].flatMap(([e, { rawPa }]) => (e.to === to ? [rawPa] : [])))
  return kickBetween(median(makes!) ?? 0, median(breaks!) ?? 0)
}

export const kickBetween = (makePa: number, breakPa: number): number =>
  criteria.typedKickShare * Math.abs(makePa - breakPa)

/** What a hose, and a display that is slow or moved by the kick, may hide at the pace that is stated: nothing that was typed excludes it. */
function openPa({ typing: { pacePaPerS }, line, kickPa }: Lagging): { late: number; early: number } {
  return { late: pacePaPerS * mostHoseS(line), early: pacePaPerS * criteria.mostDisplayS + kickPa }
}

type Lagging = Pick<Bench, 'typing' | 'line' | 'kickPa'>

/** The same as the lags that an allowance is worked out from. */
export function typedHose(bench: Lagging): HoseLags {
  const { late, early } = openPa(bench)
  const lagOf = (pa: number) => ({ lagS: pa / bench.typing.pacePaPerS, pa })
  const hose = { shown: null, late: lagOf(late), early: lagOf(early) }
  return { make: hose, break: hose, both: { latePa: 2 * late, earlyPa: 2 * early } }
}

/** What the intervals of display and contact leave open of the lag, s. */
export const typedLagUs = (contactIntervalS: number): number => (criteria.typedDisplayS + contactIntervalS) / 2

function whyNot(
  { why, make, break: back, span }: Cycle,
  makeValue: TripValue | null,
  breakValue: TripValue | null,
  { typing, contactIntervalS, unknownUs }: Bench,
): WhyNot | null {
  if (why !== null) return why
  const isWide = (edge: Edge | null) => edge !== null && edge.hiUs - edge.loUs > gapUs(contactIntervalS)
  if (isWide(make) || isWide(back)) return 'gap'
  if (unknownUs.some(({ fromUs, toUs }) => fromUs < span.endUs && toUs > span.startUs)) return 'gap'
  if (make === null) return 'no-make'
  if (back === null) return 'no-break'
  if (makeValue === null || breakValue === null) return 'gap'
  const wayPa = makeValue.valuePa - breakValue.valuePa
  if (wayPa <= 0) return 'reversal'
  // From the make to the break the hand went so far at least: a mean above the pace stated was faster somewhere.
  return wayPa > (typing.pacePaPerS * (back.hiUs - make.loUs)) / 1e6 ? 'too-fast' : null
}

/** Make and break as the means of what was typed. The lag is what the intervals leave open: a rig's own is that of its streams. */
export function typedFit(
  used: readonly Pick<TypedCycle, 'makeValue' | 'breakValue'>[],
  bench: Bench,
): { fit: SessionFit | null; lag: LagResult } {
  const { typing, contactIntervalS, ratedPa } = bench
  const { pacePaPerS, digitPa } = typing
  const lag = { valueS: 0, uS: typedLagUs(contactIntervalS) }
  const result: LagResult = {
    ...lag,
    ...{ source: 'none', droppedS: null, meterDelay: null, dated: false },
    hose: typedHose(bench),
  }
  const fitOf = (trips: readonly TripValue[]): QuantityFit | null => {
    const n = trips.length
    if (n === 0) return null
    // Where all digits are alike they scatter by less than one; a single trip as a switch in good order does.
    const sigmaPa = Math.max(
      sampleSd(trips.map((v) => v.valuePa)) ?? criteria.scatterShare * ratedPa,
      digitPa / Math.sqrt(12),
    )
    return {
      valuePa: trips.reduce((sum, v) => sum + v.valuePa / n, 0),
      ...{ scatterU: sigmaPa / Math.sqrt(n), scatterDof: Math.max(1, n - 1), sigmaPa, n },
      lagU: pacePaPerS * lag.uS,
    }
  }
  const make = fitOf(used.flatMap((c) => c.makeValue ?? []))
  const back = fitOf(used.flatMap((c) => c.breakValue ?? []))
  if (make === null && back === null) return { fit: null, lag: result }
  const differentialLagU = 2 * pacePaPerS * lag.uS
  return { fit: { lag, make, break: back, differentialLagU, values: [], dampingS: 0 }, lag: result }
}
