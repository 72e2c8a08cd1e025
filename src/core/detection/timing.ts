// All trips of a session into the shift between contact and kick on which they agree, and the moments that this leaves each of them.
import { dampingGridS, type TripCell } from './kick.ts'
import type { TripInput } from './trip-moment.ts'

/** Contact stamp less kick stamp, s: lag plus damping. */
export type Shift = { fromS: number; toS: number }

export const shiftRangeS: Shift = { fromS: -1.5, toS: 3 }
const stepS = 0.025
/**
 * No moment is ruled out by one kick alone beyond this log likelihood: a change of the hand's pace can look like a kick, while
 * the contact's interval is a fact. Together the trips of a session tell the two apart.
 */
const leastLogLik = -8
/** A trip that fits no shift of the others costs this much and no more. */
const contradiction = 1e-5
/** A shift less likely than this share of the best is left out. */
const negligible = 1e-6

/** The trips with only those moments left that agree with a shift the whole session allows, and the range of such shifts. */
export function agreeOnShift(trips: readonly TripInput[]): { trips: TripInput[]; shift: Shift } {
  const shifts: number[] = []
  for (let s = shiftRangeS.fromS; s <= shiftRangeS.toS; s += stepS) shifts.push(s)
  const dated = trips.filter((t) => !t.contactBlind && t.surface.cells.length > 0)
  const logs = shifts.map(() => [] as number[])
  for (const d of dampingGridS.keys()) {
    const weighed = dated.map((t) => weighedCells(t, d))
    for (const [i, s] of shifts.entries())
      logs[i]!.push(dated.reduce((sum, t, k) => sum + Math.log(weightAt(t, weighed[k]!, s)), 0))
  }
  const best = logs.map((l) => Math.max(...l))
  const top = Math.max(...best)
  const alive = shifts.filter((_, i) => best[i]! - top > Math.log(negligible))
  const shift = { fromS: Math.min(...alive) - stepS, toS: Math.max(...alive) + stepS }
  return { trips: trips.map((t) => (t.contactBlind ? t : prune(t, shift))), shift }
}

type Weighed = { startS: number; endS: number; weight: number }[]

function weighedCells({ surface }: TripInput, damping: number): Weighed {
  const best = Math.max(...surface.cells.map((c) => Math.max(...c.logLiks)))
  return surface.cells.map((c) => ({
    startS: c.tS - c.widthS / 2,
    endS: c.tS + c.widthS / 2,
    weight: Math.exp(Math.max(c.logLiks[damping]! - best, leastLogLik)),
  }))
}

function weightAt(trip: TripInput, cells: Weighed, shiftS: number): number {
  let [inside, all] = [0, 0]
  for (const { startS, endS, weight } of cells) {
    all += weight * (endS - startS)
    const overlapS = Math.min(endS + shiftS, trip.hiS) - Math.max(startS + shiftS, trip.loS)
    if (overlapS > 0) inside += weight * overlapS
  }
  return inside + contradiction * all
}

function prune(trip: TripInput, { fromS, toS }: Shift): TripInput {
  const fits = (c: TripCell) => c.tS + c.widthS / 2 + toS > trip.loS && c.tS - c.widthS / 2 + fromS < trip.hiS
  const cells = trip.surface.cells.filter(fits)
  return cells.length === 0 ? trip : { ...trip, surface: { ...trip.surface, cells } }
}
