// The pressures at tee and switch end before each trip into what the line between them holds back, and how much it may be.
import { criteria } from '../criteria.table.ts'
import type { ManometerSpec } from '../model/rig.ts'
import type { Track } from '../model/samples.ts'
import type { Delay } from '../signal/delay-between.ts'
import { pressureAt } from '../signal/pressure-track.ts'
import type { Zero } from '../signal/zero.ts'
import { indexAt } from '../statistics/index-at.ts'
import { mean, sampleSd } from '../statistics/mean.ts'
import { normalQuantile } from '../statistics/normal.ts'
import { studentQuantile } from '../statistics/student.ts'
import { manometerDifferenceLines, manometerLines } from './manometer.ts'
import { zeroHalfWidth } from './zero-half-width.ts'

/** A manometer with what its display showed. */
export type Shown = { manometer: ManometerSpec; zero: Zero; track: Track }

/** A trip that counts, when the first display showed it, how fast the pressure went there, and what a lag of the hose took off its value. */
export type DropTrip = { transition: 'make' | 'break'; atUs: number; ratePaPerS: number; takenPa: number }

/** The pressure at the tee less that at the switch, as far as no lag of the hose has taken it off the values: Pa. */
export type Drop = {
  /** As shown, less and more by what of the displays' delay may be the hose's. */
  leastPa: number
  mostPa: number
  /** The bounds of it, each one-sided 95 %. */
  lowPa: number
  highPa: number
  /** How far from 0 it may be where both manometers are wrong: beyond that the line holds it back. */
  doubtPa: number
}

export type LineDrop = {
  make: Drop
  break: Drop
  differential: Drop
  /** Half of how much more the line holds back on the way up than on the way down: a gain, an offset and a leak are not in it. */
  bothWays: { heldPa: number; surelyPa: number; takenPa: number }
  /** The mean difference at make and break: a delay is not in it. `firstPa`, `secondPa`: what each manometer claims there (95 %). */
  still: { atPa: number; differPa: number; firstPa: number; secondPa: number; slackPa: number }
  /** Each trip that counts was seen by both. */
  complete: boolean
}

type Mean = { atPa: number; dropPa: number; takenPa: number; ratePaPerS: number; scatterU: number; wide: number }

/**
 * Each reading at the switch end is held against the tee as the first display showed it `delay` before. Of that delay some may be the
 * hose's own: as much as the first display may be late itself (`dampingS` at most, as its vents show, and the time in which it sends).
 * The rate times that is open: the damping of two displays cannot be told from a hose. The second manometer's accuracy, zero and digit are
 * in the bounds; those of the first are in U already. null where too little was seen.
 */
export function lineDrop(
  tee: Shown & { dampingS: number },
  end: Shown & { movedPa: number },
  delay: Delay | null,
  trips: readonly DropTrip[],
): LineDrop | null {
  if (delay === null) return null
  const seen = trips.map((trip) => ({ trip, before: beforeTrip(tee.track, end.track, delay.valueS, trip) }))
  const of = (transition: DropTrip['transition']): Mean | null => {
    const own = seen.flatMap(({ trip, before }) => (trip.transition === transition && before ? [{ trip, before }] : []))
    const drops = own.map(({ before }) => before.dropPa)
    const sdPa = sampleSd(drops)
    if (sdPa === null) return null
    return {
      atPa: mean(own.map(({ before }) => before.atPa))!,
      dropPa: mean(drops)!,
      takenPa: mean(own.map(({ trip }) => trip.takenPa))!,
      ratePaPerS: mean(own.map(({ trip }) => trip.ratePaPerS))!,
      scatterU: sdPa / Math.sqrt(drops.length),
      wide: studentQuantile(criteria.allowanceProbability, drops.length - 1),
    }
  }
  const [make, back] = [of('make'), of('break')]
  if (make === null || back === null) return null
  const openS = Math.max(0, delay.valueS + Math.min(criteria.mostDisplayS, tee.dampingS) + criteria.displaySendsS)
  const rates = make.ratePaPerS + back.ratePaPerS
  const scatter = Math.hypot(make.wide * make.scatterU, back.wide * back.scatterU)
  const delayU = (ratePaPerS: number) => ratePaPerS * delay.uS
  const instrumentOf = (m: Mean): Both => [uOf(tee, m.atPa), uOf(end, m.atPa)]
  type Of = Pick<Mean, 'dropPa' | 'takenPa' | 'ratePaPerS'>
  const bounds = (
    { dropPa, takenPa, ratePaPerS }: Of,
    scatterPa: number,
    us: Both,
    movedPa: number,
    later: 1 | -1,
  ): Drop => {
    const wide = (uPa: number) => movedPa + Math.hypot(normal * Math.hypot(uPa, delayU(ratePaPerS)), scatterPa)
    const leftPa = dropPa - takenPa
    const openPa = ratePaPerS * openS
    const [leastPa, mostPa] = later > 0 ? [leftPa, leftPa + openPa] : [leftPa - openPa, leftPa]
    return {
      leastPa,
      mostPa,
      lowPa: leastPa - wide(us[1]),
      highPa: mostPa + wide(us[1]),
      doubtPa: wide(Math.hypot(...us)),
    }
  }
  const apart: Both = [differenceU(tee, make.atPa, back.atPa), differenceU(end, make.atPa, back.atPa)]
  const between = { dropPa: make.dropPa - back.dropPa, takenPa: make.takenPa - back.takenPa, ratePaPerS: rates }
  // What moves the zero of the second goes out of the difference.
  const differential = bounds(between, scatter, apart, 0, 1)
  const [atMake, atBreak] = [instrumentOf(make), instrumentOf(back)]
  const claim = (k: 0 | 1) => (criteria.coverageFactor * (atMake[k] + atBreak[k])) / 2
  return {
    make: bounds(make, make.wide * make.scatterU, atMake, end.movedPa, 1),
    break: bounds(back, back.wide * back.scatterU, atBreak, end.movedPa, -1),
    differential,
    bothWays: {
      heldPa: between.dropPa / 2,
      takenPa: between.takenPa / 2,
      surelyPa: (between.dropPa - criteria.coverageFactor * Math.hypot(...apart, delayU(rates)) - scatter) / 2,
    },
    still: {
      atPa: (make.atPa + back.atPa) / 2,
      differPa: (make.dropPa + back.dropPa) / 2,
      firstPa: claim(0),
      secondPa: claim(1),
      slackPa: end.movedPa + (Math.max(make.ratePaPerS, back.ratePaPerS) * openS + scatter) / 2,
    },
    complete: seen.every(({ before }) => before !== null),
  }
}

/** Whether the two manometers differ by more than both claim, where no delay can be the reason. */
export function differTooMuch({ still }: LineDrop): boolean {
  return Math.abs(still.differPa) > still.firstPa + still.secondPa + still.slackPa
}

/** Of the first manometer and of the second. */
type Both = readonly [number, number]

const normal = normalQuantile(criteria.allowanceProbability)

/** Standard uncertainty of one pressure of a manometer after its zero, Pa. */
export function uOf({ manometer, zero }: Pick<Shown, 'manometer' | 'zero'>, pressurePa: number): number {
  const gauge = manometerLines('make', manometer, pressurePa).map((line) => line.uPa)
  return Math.hypot(...gauge, zeroHalfWidth(zero, manometer) / Math.sqrt(3), manometer.digitPa / Math.sqrt(12))
}

/** The same of the difference of two pressures: the zero goes out, the digit is met twice. */
function differenceU({ manometer }: Shown, makePa: number, breakPa: number): number {
  const gauge = manometerDifferenceLines(manometer, makePa, breakPa).map((line) => line.uPa)
  return Math.hypot(...gauge, manometer.digitPa / Math.sqrt(6))
}

/** What a second manometer leaves open of a line that holds nothing back, Pa: one-sided 95 %, no scatter, no delay. */
export const mostLeftPa = (manometer: ManometerSpec, pressurePa: number): number =>
  normal * uOf({ manometer, zero: { before: null, after: null, noisePa: 0 } }, pressurePa)

/** The mean of tee less switch end over the last seconds before a trip, its kick left out; null where too few readings lie there. */
function beforeTrip(tee: Track, end: Track, delayS: number, { atUs }: DropTrip) {
  // On the display that is quicker the kick comes earlier.
  const toUs = atUs + Math.min(0, delayS) * 1e6 - criteria.dropGuardUs
  const [from, to] = [indexAt(end, toUs - criteria.dropUs), indexAt(end, toUs)]
  if (to - from < criteria.dropReadings || to >= end.length) return null
  const { tUs, pressurePa } = end.of
  let [dropPa, atPa] = [0, 0]
  for (let i = from; i < to; i++) {
    const teePa = pressureAt(tee, tUs[i]! - delayS * 1e6)
    dropPa += (teePa - pressurePa[i]!) / (to - from)
    atPa += teePa / (to - from)
  }
  return { dropPa, atPa }
}
