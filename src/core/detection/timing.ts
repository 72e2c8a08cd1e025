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
    const likelihoods = dated.map((t) => cumulate(t, d))
    for (const [i, shiftS] of shifts.entries())
      logs[i]!.push(
        dated.reduce((sum, t, k) => {
          const upTo = likelihoods[k]!
          const inside = upTo(t.hiS - shiftS) - upTo(t.loS - shiftS)
          return sum + Math.log(inside + contradiction * upTo(Number.POSITIVE_INFINITY))
        }, 0),
      )
  }
  const best = logs.map((l) => Math.max(...l))
  const top = Math.max(...best)
  const alive = shifts.filter((_, i) => best[i]! - top > Math.log(negligible))
  const shift = { fromS: Math.min(...alive) - stepS, toS: Math.max(...alive) + stepS }
  return { trips: trips.map((t) => (t.contactBlind ? t : prune(t, shift))), shift }
}

/** Likelihood that a trip's kick stood before a moment (s), up to a factor: the running sum over its cells, straight within each. */
function cumulate({ surface }: TripInput, damping: number): (tS: number) => number {
  const { cells } = surface
  const best = Math.max(...cells.map((c) => Math.max(...c.logLiks)))
  const starts = cells.map((c) => c.tS - c.widthS / 2)
  const weights = cells.map((c) => Math.exp(Math.max(c.logLiks[damping]! - best, leastLogLik)))
  const sums = [0]
  for (const [i, c] of cells.entries()) sums.push(sums[i]! + weights[i]! * c.widthS)
  return (tS) => {
    let low = 0
    let high = cells.length
    while (low < high) {
      const mid = (low + high) >> 1
      if (starts[mid]! < tS) low = mid + 1
      else high = mid
    }
    const i = low - 1
    if (i < 0) return 0
    return sums[i]! + weights[i]! * Math.min(cells[i]!.widthS, tS - starts[i]!)
  }
}

function prune(trip: TripInput, { fromS, toS }: Shift): TripInput {
  const fits = (c: TripCell) => c.tS + c.widthS / 2 + toS > trip.loS && c.tS - c.widthS / 2 + fromS < trip.hiS
  const cells = trip.surface.cells.filter(fits)
  return cells.length === 0 ? trip : { ...trip, surface: { ...trip.surface, cells } }
}
