// One trip for one lag and one damping: how likely it is there, and its lag-freed pressure with the variance it leaves.
import type { TripSurface } from './kick.ts'

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
  /** The contact's interval is not to be believed (a late meter): only the kick dates this trip. */
  contactBlind: boolean
}

/** One trip freed of lag. Pressures Pa; `sdPa` is what its own interval and ramp leave open. */
export type TripValue = { valuePa: number; loPa: number; hiPa: number; sdPa: number; ratePaPerS: number }

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
export type Prepared = TripInput & { cells: Cell[] }
export type Moment = { logWeight: number; mean: number; variance: number }

/** Stamps of two processes agree no better than this, s. */
const stampJitterS = 0.004
/** A trip whose interval and kick contradict each other costs this much and no more. */
const contradiction = 1e-5
/** Log likelihood, relative to the best, below which a moment is left out. */
const impossible = -20

/** A trip made ready to be weighed for many lags. `useKick` false: only the contact's interval dates it. */
export function prepareTrip(trip: TripInput, useKick: boolean): Prepared {
  const { cells } = trip.surface
  const best = useKick ? Math.max(...cells.flatMap((c) => c.logLiks)) : 0
  return {
    ...trip,
    cells: cells
      .filter((c) => !useKick || Math.max(...c.logLiks) - best > impossible)
      .map(({ tS, widthS, before, smooth, logLiks }): Cell => {
        const { pPa: p, vPaPerS: v, pp, pv, vv } = useKick ? before : smooth
        // A trip is likelier where the pressure moves faster: equal chances for equal steps of pressure.
        const stepPa = widthS * (Math.abs(v) + 1e-9)
        const weights = useKick ? logLiks.map((l) => Math.exp(l - best) * stepPa) : [stepPa]
        return { startS: tS - widthS / 2, widthS, p, v, pp, pv, vv, weights }
      }),
  }
}

/** Weight, mean and variance of one trip's lag-freed pressure for one lag and damping. */
export function momentAt(trip: Prepared, lagS: number, dampingIndex: number, dampingS: number): Moment {
  const shiftS = lagS + dampingS
  const lo = trip.loS - stampJitterS
  const hi = trip.hiS + stampJitterS
  let [sum, sumP, sumPP] = [0, 0, 0]
  for (const c of trip.cells) {
    const start = c.startS + shiftS
    const overlap = Math.min(start + c.widthS, hi) - Math.max(start, lo)
    const inside = trip.contactBlind ? 1 : overlap > 0 ? overlap / c.widthS : 0
    const weight = c.weights[dampingIndex]! * (inside + contradiction)
    const value = c.p + dampingS * c.v
    const own = c.pp + 2 * dampingS * c.pv + dampingS * dampingS * c.vv
    sum += weight
    sumP += weight * value
    sumPP += weight * (value * value + own)
  }
  if (!(sum > 0)) return { logWeight: -1e3, mean: Number.NaN, variance: Infinity }
  const mean = sumP / sum
  return { logWeight: Math.log(sum), mean, variance: Math.max(1e-9, sumPP / sum - mean * mean) }
}

/** The trip freed of lag: `weighed` = its moments with their weights; interval and rate are those at the likeliest lag and damping. */
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
  const shiftS = likely.lagS + likely.dampingS
  const weightOf = (c: Cell) => c.weights[likely.damping]! / (c.widthS * (Math.abs(c.v) + 1e-9))
  const top = Math.max(...trip.cells.map(weightOf))
  const possible = trip.cells.filter((c) => weightOf(c) > top * 1e-3)
  const inside = possible.filter(
    (c) => trip.contactBlind || (c.startS + shiftS < trip.hiS && c.startS + c.widthS + shiftS > trip.loS),
  )
  const cells = inside.length > 0 ? inside : possible
  const values = cells.map((c) => c.p + likely.dampingS * c.v)
  const rate = cells.reduce((s, c) => s + Math.abs(c.v), 0) / cells.length
  const valuePa = mean / sum
  return {
    valuePa,
    loPa: Math.min(valuePa, ...values),
    hiPa: Math.max(valuePa, ...values),
    sdPa: Math.sqrt(own / sum),
    ratePaPerS: rate,
  }
}
