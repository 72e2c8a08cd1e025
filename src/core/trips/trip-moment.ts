// One trip for one lag and one damping: how likely it is there, and its lag-freed pressure with the variance it leaves.
import { bestLogLiks, type TripSurface } from './kick.ts'
import type { Response } from './response.ts'

export type TripInput = {
  transition: 'make' | 'break'
  /** Whether it counts for M0 or B0; every trip helps to find the lag. */
  counted: boolean
  /** The wired pair closes here: where a meter that changes its range is late. */
  closes: boolean
  loS: number
  hiS: number
  surface: TripSurface
  /** Its kick stands out of the noise. */
  kick: boolean
  /** Kicks stand out in the session: they date its trips. */
  dated: boolean
  /** The contact's interval is not to be believed (a late meter): only the kick dates this trip. */
  contactBlind: boolean
}

/** One trip freed of lag. Pressures Pa; `sdPa` is what its own interval and ramp leave open; `seen` where and when the display showed it; `takenPa` what a lag of the hose that shows took off it; `open` how much lower or higher it may lie by one that is not excluded. */
export type TripValue = {
  valuePa: number
  loPa: number
  hiPa: number
  sdPa: number
  ratePaPerS: number
  seen: { tS: number; shownPa: number }
  takenPa: number
  open: { lowPa: number; highPa: number }
}

type Cell = {
  startS: number
  widthS: number
  p: number
  v: number
  pp: number
  pv: number
  vv: number
  /** For each damping: likelihood (relative to the trip's best cell) × the step of pressure that the cell spans. */
  weights: number[]
}
/** Weight, and weighted sums of pressure and its square, over cells. */
type Sums = { w: number; wp: number; wpp: number }
export type Prepared = TripInput & {
  cells: Cell[]
  /** For each damping: the sums over all cells, whatever the contact said. */
  everywhere: Sums[]
}
export type Moment = { logWeight: number; mean: number; variance: number }

/** Stamps of two processes agree no better than this, s. */
const stampJitterS = 0.004
/** A trip whose interval and kick contradict each other costs this much and no more. */
const contradiction = 1e-5
/** Log likelihood, relative to the best with that shape, below which a moment is left out. */
const impossible = -20
/** What one trip may say against a shape of the kick that the session's other trips show (log likelihood): the hand changes its pace. */
const oddShape = -8
/** Weight, relative to the best, below which a moment says nothing of where a trip may have been. */
const hardlyPossible = 1e-3
/** A rate no hand draws as slowly as, Pa/s: no moment is ruled out by the rate alone. */
const leastRate = 1e-9
/** What rounding leaves of a variance that is none, Pa². */
const leastVariance = 1e-9

/** A trip made ready to be weighed for many lags at the responses given. One not dated by kicks is placed by its contact's interval alone. */
export function prepareTrip(trip: TripInput, answers: readonly Response[]): Prepared {
  const { dated } = trip
  const { cells } = trip.surface
  const direction = trip.transition === 'make' ? 1 : -1
  const bestOf = dated ? bestLogLiks(trip.surface) : []
  const best = dated ? Math.max(...bestOf) : 0
  const prepared = cells.map(({ tS, widthS, before, smooth, logLiks }): Cell => {
    const { pPa: p, vPaPerS: v, pp, pv, vv } = dated ? before : smooth
    // Equal chances for equal steps of pressure. Where kicks date, one that goes away from the trip is the kick's own.
    const stepPa = widthS * ((dated ? Math.max(0, direction * v) : Math.abs(v)) + leastRate)
    const weights = dated
      ? logLiks.map(
          (l, d) => Math.exp(Math.max(bestOf[d]! - best, oddShape) + Math.max(l - bestOf[d]!, impossible)) * stepPa,
        )
      : answers.map(() => stepPa)
    return { startS: tS - widthS / 2, widthS, p, v, pp, pv, vv, weights }
  })
  const everywhere = answers.map(({ delayS }, d) => {
    const sums = { w: 0, wp: 0, wpp: 0 }
    for (const cell of prepared) addCell(sums, cell, 1, d, dated ? delayS : 0)
    return sums
  })
  return { ...trip, cells: prepared, everywhere }
}

function addCell(sums: Sums, c: Cell, share: number, damping: number, dampingS: number): void {
  const weight = c.weights[damping]! * share
  const value = c.p + dampingS * c.v
  const own = c.pp + 2 * dampingS * c.pv + dampingS * dampingS * c.vv
  sums.w += weight
  sums.wp += weight * value
  sums.wpp += weight * (value * value + own)
}

/** Weight, mean and variance of one trip's lag-freed pressure for one lag and damping. */
export function momentAt(trip: Prepared, lagS: number, damping: number, sessionDampingS: number): Moment {
  const { cells, everywhere } = trip
  // The lag holds damping already; only a kick's onset runs ahead of the damped ramp.
  const dampingS = trip.dated ? sessionDampingS : 0
  const all = everywhere[damping]!
  const share = trip.contactBlind ? 1 : contradiction
  const sums = { w: all.w * share, wp: all.wp * share, wpp: all.wpp * share }
  if (!trip.contactBlind) {
    const lo = trip.loS - stampJitterS - lagS - dampingS
    const hi = trip.hiS + stampJitterS - lagS - dampingS
    for (let i = firstEndingAfter(cells, lo); i < cells.length && cells[i]!.startS < hi; i++) {
      const c = cells[i]!
      const overlap = Math.min(c.startS + c.widthS, hi) - Math.max(c.startS, lo)
      addCell(sums, c, overlap / c.widthS, damping, dampingS)
    }
  }
  if (!(sums.w > 0)) return { logWeight: -1e3, mean: Number.NaN, variance: Infinity }
  const mean = sums.wp / sums.w
  return { logWeight: Math.log(sums.w), mean, variance: Math.max(leastVariance, sums.wpp / sums.w - mean * mean) }
}

function firstEndingAfter(cells: readonly Cell[], tS: number): number {
  let low = 0
  let high = cells.length
  while (low < high) {
    const mid = (low + high) >> 1
    if (cells[mid]!.startS + cells[mid]!.widthS <= tS) low = mid + 1
    else high = mid
  }
  return low
}

/** The trip freed of lag: `weighed` = its moments with their weights; interval, rate and where it was seen are those at the likeliest lag and damping. */
export function tripValue(
  trip: Prepared,
  weighed: readonly { weight: number; moment: Moment }[],
  likely: { lagS: number; damping: number; dampingS: number },
): TripValue {
  let [sum, mean, own] = [0, 0, 0]
  for (const { weight, moment } of weighed) {
    if (!Number.isFinite(moment.mean)) continue
    sum += weight
    mean += weight * moment.mean
    own += weight * moment.variance
  }
  const dampingS = trip.dated ? likely.dampingS : 0
  const shiftS = likely.lagS + dampingS
  /** Its likelihood; hardly any where the pressure goes away from the trip. */
  const weightOf = (c: Cell) => c.weights[likely.damping]! / (c.widthS * (Math.abs(c.v) + leastRate))
  const top = Math.max(...trip.cells.map(weightOf))
  const possible = trip.cells.filter((c) => weightOf(c) > top * hardlyPossible)
  const inside = possible.filter(
    (c) => trip.contactBlind || (c.startS + shiftS < trip.hiS && c.startS + c.widthS + shiftS > trip.loS),
  )
  const cells = inside.length > 0 ? inside : possible
  const values = cells.map((c) => c.p + dampingS * c.v)
  // By weight: a moment just past the kick, hardly possible, has the rate of the fall itself.
  const likelihood = cells.reduce((s, c) => s + weightOf(c), 0)
  const average = (of: (c: Cell) => number) => cells.reduce((s, c) => s + weightOf(c) * of(c), 0) / likelihood
  const valuePa = mean / sum
  return {
    valuePa,
    loPa: Math.min(valuePa, ...values),
    hiPa: Math.max(valuePa, ...values),
    sdPa: Math.sqrt(own / sum),
    ratePaPerS: average((c) => Math.abs(c.v)),
    seen: { tS: average((c) => c.startS + c.widthS / 2), shownPa: average((c) => c.p) },
    takenPa: 0,
    open: { lowPa: 0, highPa: 0 },
  }
}
