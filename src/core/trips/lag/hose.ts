// Trips over their paces into the lag of the hose between tee and switch: what they show of it, and what they do not exclude.
import { criteria } from '../../criteria.table.ts'
import { studentQuantile } from '../../statistics/student.ts'
import type { LagEstimate, QuantityFit, SessionFit } from '../fit.ts'
import type { TripInput, TripValue } from '../trip-moment.ts'

/** Make and break apart: while the diaphragm floats the hose fills it too, on its stop it does not. */
export type HoseLag = {
  /** What the paces show, taken off each trip; null where they show none. */
  shown: LagEstimate | null
  /** How much later than that the switch may feel the pressure by what the paces do not exclude (one-sided 95 %), s. */
  openS: number
  /** How much earlier: a display whose delay no kick dates. */
  openBackS: number
}

export type HoseLags = Record<'make' | 'break', HoseLag>

/** Nothing is known of a line through which no trip was seen. */
const anyLag: HoseLag = { shown: null, openS: criteria.mostLagS, openBackS: 0 }
export const anyHose: HoseLags = { make: anyLag, break: anyLag }

/** The longest lags that need to be thought of, s: of the hose, and of a display that no kick dates; whether one that shows is taken off. */
export type MostLag = { hoseS: number; displayS: number; taken: boolean }

type Group = { sign: 1 | -1; rates: number[]; values: number[]; ownVar: number }

/**
 * Lags of the hose by M(r) = M0 + rL and B(r) = B0 − rL over the counted trips, each with its own L and both with one scatter;
 * u(L) = s/√Σ(r − r̄)². Trips at one pace exclude nothing. A kick behind a slow hose bends the ramp slowly, so that the rate at the
 * trip may be any: the pace before it has to say the same, and what either leaves open stays open.
 */
export function hoseLags(trips: readonly TripInput[], values: readonly TripValue[], most: MostLag): HoseLags {
  const byPace = lagsBy('pacePaPerS', trips, values, most)
  const byRate = lagsBy('ratePaPerS', trips, values, most)
  const both = (q: 'make' | 'break'): HoseLag => {
    const [pace, rate] = [byPace[q], byRate[q]]
    if (pace.shown && rate.shown) return rate
    const shownS = (pace.shown ?? rate.shown)?.valueS ?? 0
    const beyondS = 2 * ((pace.shown ?? rate.shown)?.uS ?? 0)
    return {
      shown: null,
      openS: Math.min(most.hoseS, Math.max(pace.openS, rate.openS, shownS + beyondS)),
      openBackS: Math.max(pace.openBackS, rate.openBackS),
    }
  }
  return { make: both('make'), break: both('break') }
}

function lagsBy(
  by: 'pacePaPerS' | 'ratePaPerS',
  trips: readonly TripInput[],
  values: readonly TripValue[],
  most: MostLag,
): HoseLags {
  const groups = { make: groupOf('make', by, trips, values), break: groupOf('break', by, trips, values) }
  const lines = [lineOf(groups.make), lineOf(groups.break)].filter((l) => l !== null)
  const dof = lines.reduce((sum, l) => sum + l.dof, 0)
  const squares = lines.reduce((sum, l) => sum + l.squares, 0)
  const lagOf = (group: Group): HoseLag => {
    const open = { shown: null, openS: most.hoseS, openBackS: most.displayS }
    const line = lineOf(group)
    if (!line || dof < 1 || Math.max(...group.rates) < criteria.hoseRateRatio * Math.min(...group.rates)) return open
    const uS = Math.sqrt(Math.max(squares / dof, group.ownVar) / line.sxx)
    const beyondS = studentQuantile(criteria.allowanceProbability, dof) * uS
    // A drift of the part looks like a hose at one of the two and like less than none at the other.
    const other = group === groups.make ? lineOf(groups.break) : lineOf(groups.make)
    const drifts = other !== null && other.slopeS < -beyondS * Math.sqrt(line.sxx / other.sxx)
    const shown =
      most.taken &&
      !drifts &&
      line.slopeS > criteria.hoseS &&
      line.slopeS > studentQuantile(criteria.hoseProbability, dof) * uS
        ? { valueS: line.slopeS, uS }
        : null
    const within = (lagS: number, mostS: number) => Math.min(mostS, Math.max(0, lagS))
    return {
      shown,
      openS: shown ? 0 : within(line.slopeS + beyondS, most.hoseS),
      openBackS: shown ? 0 : within(beyondS - line.slopeS, most.displayS),
    }
  }
  return { make: lagOf(groups.make), break: lagOf(groups.break) }
}

function groupOf(
  transition: 'make' | 'break',
  by: 'pacePaPerS' | 'ratePaPerS',
  trips: readonly TripInput[],
  all: readonly TripValue[],
): Group {
  const own = all.filter((_, i) => trips[i]!.counted && trips[i]!.transition === transition)
  return {
    sign: transition === 'make' ? 1 : -1,
    rates: own.map((v) => v[by]),
    values: own.map((v) => v.valuePa),
    ownVar: own.reduce((sum, v) => sum + v.sdPa ** 2, 0) / Math.max(1, own.length),
  }
}

/** Least squares of the value over the pace, the slope as a lag; null with too few trips for a scatter, or one pace. */
function lineOf({ sign, rates, values }: Group): { slopeS: number; sxx: number; squares: number; dof: number } | null {
  const dof = rates.length - 2
  if (dof < 1) return null
  const mean = (xs: readonly number[]) => xs.reduce((a, b) => a + b, 0) / xs.length
  const [rate, value] = [mean(rates), mean(values)]
  const sxx = rates.reduce((sum, r) => sum + (r - rate) ** 2, 0)
  if (!(sxx > 0)) return null
  const slope = rates.reduce((sum, r, i) => sum + (r - rate) * (values[i]! - value), 0) / sxx
  const squares = rates.reduce((sum, r, i) => sum + (values[i]! - value - slope * (r - rate)) ** 2, 0)
  return { slopeS: sign * slope, sxx, squares, dof }
}

/** The fit with the lags that show taken off every trip and their uncertainty put into the lag's share. */
export function freeOfHose(fit: SessionFit, trips: readonly TripInput[], lags: HoseLags): SessionFit {
  const values = fit.values.map((v, i): TripValue => {
    const { transition } = trips[i]!
    const shiftPa = (transition === 'make' ? 1 : -1) * (lags[transition].shown?.valueS ?? 0) * v.ratePaPerS
    return { ...v, valuePa: v.valuePa - shiftPa, loPa: v.loPa - shiftPa, hiPa: v.hiPa - shiftPa }
  })
  const meanRate = (transition: 'make' | 'break') => {
    const own = values.filter((_, i) => trips[i]!.counted && trips[i]!.transition === transition)
    return own.reduce((sum, v) => sum + v.ratePaPerS, 0) / Math.max(1, own.length)
  }
  const refit = (point: QuantityFit | null, transition: 'make' | 'break'): QuantityFit | null => {
    const own = values.filter((_, i) => trips[i]!.counted && trips[i]!.transition === transition)
    const { shown } = lags[transition]
    if (point === null || shown === null || own.length <= 1) return point
    const mean = own.reduce((sum, v) => sum + v.valuePa, 0) / own.length
    // One degree of freedom went into the slope.
    const dof = own.length - 2
    const sigmaPa = Math.sqrt(own.reduce((sum, v) => sum + (v.valuePa - mean) ** 2, 0) / (own.length - 1))
    return {
      ...point,
      valuePa: mean,
      sigmaPa,
      scatterU: sigmaPa / Math.sqrt(own.length),
      scatterDof: Math.max(1, dof),
      lagU: Math.hypot(point.lagU, meanRate(transition) * shown.uS),
    }
  }
  const u = (transition: 'make' | 'break') => meanRate(transition) * (lags[transition].shown?.uS ?? 0)
  const shown = hoseShown(lags)
  return {
    ...fit,
    lag: shown ? { valueS: fit.lag.valueS + shown.valueS, uS: Math.hypot(fit.lag.uS, shown.uS) } : fit.lag,
    make: refit(fit.make, 'make'),
    break: refit(fit.break, 'break'),
    differentialLagU: Math.hypot(fit.differentialLagU, u('make'), u('break')),
    values,
  }
}

/** The hose's lag in one number: the larger one where both show. */
export function hoseShown({ make, break: back }: HoseLags): LagEstimate | null {
  if (!make.shown || !back.shown) return make.shown ?? back.shown
  return make.shown.valueS > back.shown.valueS ? make.shown : back.shown
}
