// All trips of a session into the shift between contact and kick on which they agree, and the moments that this leaves each of them.
import { criteria } from '../criteria.table.ts'
import { median } from '../statistics/mean.ts'
import { bestLogLiks, type TripCell } from './kick.ts'
import { mostDelayS } from './response.ts'
import type { TripInput } from './trip-moment.ts'

/** Contact stamp less kick stamp, s: lag plus damping. */
export type Shift = { fromS: number; toS: number }

export const shiftRangeS: Shift = { fromS: -1.5, toS: 3 }
const finestStepS = 0.025
const stepsPerInterval = 4
/**
 * No moment is ruled out by one kick alone beyond this log likelihood: a change of the hand's pace can look like a kick, while
 * the contact's interval is a fact. Together the trips of a session tell the two apart.
 */
const leastLogLik = -8
/** Delay that displays, meters and hoses commonly add, s: common practice, no source. */
const addedS = 0.3
/** An unusual shift costs at most this (log likelihood): a dozen trips that agree on it are believed all the same. */
const unheardOf = -12
/** Neighbours among the responses agree on the shift well enough. */
const responseStep = 2
/** A trip that fits no shift of the others costs this much and no more. */
const contradiction = 1e-5
/** A shift less likely than this share of the best is left out. */
const negligible = 1e-6

/** Share of the trips (0 to 1) that agree with the shift the session likes best: kicks that agree on none are no kicks. */
export function agreementOf(trips: readonly TripInput[]): number {
  const { shifts, best, dated } = weighShifts(trips)
  const at = best.indexOf(Math.max(...best))
  if (dated.length === 0) return 0
  const agreeing = dated.filter((trip) => {
    const fits = shifts.map(() => Number.NEGATIVE_INFINITY)
    const best = bestLogLiks(trip.surface)
    for (let d = 0; d < trip.surface.answers.length; d += responseStep) {
      const logs = new Float64Array(shifts.length)
      addLogs(logs, shifts, trip, best, d)
      for (const [i, log] of logs.entries()) fits[i] = Math.max(fits[i]!, log)
    }
    return fits[at]! > Math.max(...fits) - criteria.agreeingLogLik
  })
  return agreeing.length / dated.length
}

/** The trips with only those moments left that agree with a shift the whole session allows, and the range of such shifts. */
export function agreeOnShift(trips: readonly TripInput[]): { trips: TripInput[]; shift: Shift } {
  const { shifts, best, stepS } = weighShifts(trips)
  const top = Math.max(...best)
  const alive = shifts.filter((_, i) => best[i]! - top > Math.log(negligible))
  const shift = { fromS: Math.min(...alive) - stepS, toS: Math.max(...alive) + stepS }
  return {
    trips: trips.map((t) =>
      t.contactBlind ? t : prune(t, t.dated ? shift : widened(shift, mostDelayS(t.surface.answers))),
    ),
    shift,
  }
}

/** Log likelihood of each shift for all dated trips together, at the response that suits it best. */
function weighShifts(trips: readonly TripInput[]) {
  const shifts: number[] = []
  const { stepS, usualS } = scalesOf(trips)
  for (let s = shiftRangeS.fromS; s <= shiftRangeS.toS; s += stepS) shifts.push(s)
  const dated = trips.filter((t) => t.dated && !t.contactBlind && t.surface.cells.length > 0)
  const bestOf = dated.map((t) => bestLogLiks(t.surface))
  const best = shifts.map(() => Number.NEGATIVE_INFINITY)
  const logUsual = (shiftS: number) => -0.5 * (shiftS / usualS) ** 2
  const count = dated[0]?.surface.answers.length ?? 0
  for (let d = 0; d < count; d += responseStep) {
    const logs = Float64Array.from(shifts, (s) => Math.max(unheardOf, logUsual(s)))
    for (const [i, trip] of dated.entries()) addLogs(logs, shifts, trip, bestOf[i]!, d)
    for (const [i, log] of logs.entries()) if (log > best[i]!) best[i] = log
  }
  return { shifts, best, stepS, dated }
}

/**
 * A step that no agreement slips through, a fraction of the narrowest contact interval and of the kick's cells; and the size of
 * usual shifts: half of both intervals, and what instruments and hose may add.
 */
function scalesOf(trips: readonly TripInput[]): { stepS: number; usualS: number } {
  const contactS = trips.map((t) => t.hiS - t.loS)
  const cellsS = trips.map((t) => 4 * (t.surface.cells[0]?.widthS ?? 0))
  const stepS = Math.max(finestStepS, Math.min(...contactS, ...cellsS) / stepsPerInterval)
  return { stepS, usualS: ((median(contactS) ?? 0) + (median(cellsS) ?? 0)) / 2 + addedS }
}

/**
 * Adds to each shift the log of how well one trip fits it with one shape of its kick: the likelihood of the kick within the
 * contact's interval moved back by the shift. `best` = log likelihood of its best moment with each shape.
 */
function addLogs(
  logs: Float64Array,
  shifts: readonly number[],
  { loS, hiS, surface }: TripInput,
  best: readonly number[],
  shape: number,
): void {
  const { cells } = surface
  const weights = cells.map((c) => Math.exp(Math.max(c.logLiks[shape]! - best[shape]!, leastLogLik)))
  const odd = Math.max(best[shape]! - Math.max(...best), leastLogLik)
  // Running sum at the start of each cell; the cells join, so what stands before a moment is a straight line within its cell.
  const sums = [0]
  for (const [i, c] of cells.entries()) sums.push(sums[i]! + weights[i]! * c.widthS)
  const least = contradiction * sums.at(-1)!
  let [low, high] = [cells.length, cells.length]
  const upTo = (tS: number, from: number): [number, number] => {
    let i = from
    while (i > 0 && cells[i - 1]!.tS - cells[i - 1]!.widthS / 2 >= tS) i--
    const c = cells[i - 1]
    return c ? [i, sums[i - 1]! + weights[i - 1]! * Math.min(c.widthS, tS - c.tS + c.widthS / 2)] : [0, 0]
  }
  // Shifts rise, so both ends of the interval only move back.
  for (const [k, shiftS] of shifts.entries()) {
    const [h, hiSum] = upTo(hiS - shiftS, high)
    const [l, loSum] = upTo(loS - shiftS, low)
    high = h
    low = l
    logs[k]! += Math.log(hiSum - loSum + least) + odd
  }
}

/** A trip without a kick lies earlier than its contact by the lag alone: by the shift less any damping. */
function widened({ fromS, toS }: Shift, delayS: number): Shift {
  return { fromS: fromS - delayS, toS }
}

function prune(trip: TripInput, { fromS, toS }: Shift): TripInput {
  const fits = (c: TripCell) => c.tS + c.widthS / 2 + toS > trip.loS && c.tS - c.widthS / 2 + fromS < trip.hiS
  const cells = trip.surface.cells.filter(fits)
  return cells.length === 0 ? trip : { ...trip, surface: { ...trip.surface, cells } }
}
