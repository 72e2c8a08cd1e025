// The displayed pressure as a ramp drawn by hand: a rate that wanders, followed by a Kalman filter forward and a smoother back.
//
// State [p, v]: pressure and rate; the rate does a random walk of intensity q (Pa²/s³), so the window that counts
// is chosen by the data: a steady hand (small q) is averaged over seconds, a trembling one over a few readings.
// Model: integrated Wiener process, e.g. Bar-Shalom, Li, Kirubarajan, Estimation with Applications to Tracking and
// Navigation (2001), 6.2.2 (from memory). q is chosen by likelihood from the session's own strokes.

import { criteria } from '../criteria.table.ts'
import { isSame } from '../statistics/is-same.ts'
import { median } from '../statistics/mean.ts'

/** A displayed pressure with zero subtracted; `tS` in s from any origin; `extraVar` is its variance beyond the noise, Pa². */
export type RampSample = { tS: number; pressurePa: number; extraVar: number }

/** Estimate of pressure and rate at one moment, with its covariance. */
export type RampState = { pPa: number; vPaPerS: number; pp: number; pv: number; vv: number }

export type RampModel = {
  /** Variance of single readings, Pa²: noise and digit. */
  noiseVar: number
  /** Intensity of the rate's random walk, Pa²/s³. */
  q: number
}

// A hand's rates before anything is known of them: 0 ± 20 Pa/s covers a quick stroke; the second reading settles it.
const initialRateVar = 400

function startRamp({ pressurePa, extraVar }: RampSample, model: RampModel): RampState {
  return { pPa: pressurePa, vPaPerS: 0, pp: model.noiseVar + extraVar, pv: 0, vv: initialRateVar }
}

/** The state `dtS` later, before any reading there. */
export function predictRamp(s: RampState, dtS: number, model: RampModel): RampState {
  const { q } = model
  return {
    pPa: s.pPa + s.vPaPerS * dtS,
    vPaPerS: s.vPaPerS,
    pp: s.pp + 2 * dtS * s.pv + dtS * dtS * s.vv + (q * dtS ** 3) / 3,
    pv: s.pv + dtS * s.vv + (q * dtS * dtS) / 2,
    vv: s.vv + q * dtS,
  }
}

/**
 * Price of a jump of the rate in log likelihood, and its variance (Pa/s)²: once in some hundred readings, to anything
 * between a slow ramp and a vent. Only the order of either matters.
 */
export const paceJump = { price: 6, rateVar: 400 }

/** The state `dtS` later with that reading taken in; `ahead` is the state just before it, a jump of the rate included. */
export function advance(
  s: RampState,
  dtS: number,
  { pressurePa, extraVar }: RampSample,
  model: RampModel,
): { state: RampState; ahead: RampState; logLik: number } {
  let ahead = predictRamp(s, dtS, model)
  const error = pressurePa - ahead.pPa
  const noiseVar = model.noiseVar + extraVar
  let logLik = logGauss(error, ahead.pp + noiseVar)
  const jumpVar = dtS * dtS * paceJump.rateVar
  const surprise = isSurprise(error, ahead.pp + noiseVar)
  const withJump = surprise ? logGauss(error, ahead.pp + noiseVar + jumpVar) - paceJump.price : logLik
  if (withJump > logLik) {
    logLik = withJump
    const { pp, pv, vv } = ahead
    ahead = { ...ahead, pp: pp + jumpVar, pv: pv + dtS * paceJump.rateVar, vv: vv + paceJump.rateVar }
  }
  const variance = ahead.pp + noiseVar
  const gainP = ahead.pp / variance
  const gainV = ahead.pv / variance
  const state = {
    pPa: ahead.pPa + gainP * error,
    vPaPerS: ahead.vPaPerS + gainV * error,
    pp: ahead.pp - gainP * ahead.pp,
    pv: ahead.pv - gainP * ahead.pv,
    vv: ahead.vv - gainV * ahead.pv,
  }
  return { state, ahead, logLik }
}

// A reading more than 6 sd off says "wild" and not "impossible": its cost is capped, or one spike would decide everything.
const worstSquare = 36

/** Square of an error, in variances, that costs as much as a jump. */
const surprisingSquare = 2 * paceJump.price

/** Whether an error is so large that a jump of the rate could be the likelier story: a jump's price at the very least. */
export function isSurprise(error: number, variance: number): boolean {
  return error * error > surprisingSquare * variance
}

export function logGauss(error: number, variance: number): number {
  return -0.5 * (Math.log(2 * Math.PI * variance) + Math.min((error * error) / variance, worstSquare))
}

export type Filtered = {
  /** The state after each sample, and just before it (the first is its own). */
  states: RampState[]
  aheads: RampState[]
  /** Running log likelihood; the first sample's is 0. */
  logLiks: number[]
}

/** The ramp followed through `samples`, each state knowing only what came before. */
export function filterRamp(samples: readonly RampSample[], model: RampModel): Filtered {
  const out: Filtered = { states: [], aheads: [], logLiks: [] }
  let state: RampState | null = null
  let total = 0
  let atS = 0
  for (const sample of samples) {
    const { tS } = sample
    if (state === null) {
      state = startRamp(sample, model)
      out.aheads.push(state)
    } else {
      const next = advance(state, tS - atS, sample, model)
      state = next.state
      total += next.logLik
      out.aheads.push(next.ahead)
    }
    atS = tS
    out.states.push(state)
    out.logLiks.push(total)
  }
  return out
}

/** The log likelihood of all `samples`, as the filter comes to it. */
function likelihoodOf(samples: readonly RampSample[], model: RampModel): number {
  let total = 0
  let state = startRamp(samples[0]!, model)
  for (let i = 1; i < samples.length; i++) {
    const next = advance(state, samples[i]!.tS - samples[i - 1]!.tS, samples[i]!, model)
    state = next.state
    total += next.logLik
  }
  return total
}

/** Smoothed states at each sample (Rauch, Tung, Striebel 1965; fixed-interval smoother): both sides count. */
export function smoothRamp(samples: readonly RampSample[], { states, aheads }: Filtered): RampState[] {
  const smooth = [...states]
  for (let i = samples.length - 2; i >= 0; i--) {
    const here = states[i]!
    const later = smooth[i + 1]!
    const dtS = samples[i + 1]!.tS - samples[i]!.tS
    const ahead = aheads[i + 1]!
    // gain = C · Fᵀ · P⁻¹ with F = [[1, dt], [0, 1]].
    const a = here.pp + dtS * here.pv
    const b = here.pv
    const c = here.pv + dtS * here.vv
    const d = here.vv
    const det = ahead.pp * ahead.vv - ahead.pv * ahead.pv
    if (!(det > 0)) continue
    const g11 = (a * ahead.vv - b * ahead.pv) / det
    const g12 = (b * ahead.pp - a * ahead.pv) / det
    const g21 = (c * ahead.vv - d * ahead.pv) / det
    const g22 = (d * ahead.pp - c * ahead.pv) / det
    const ep = later.pPa - ahead.pPa
    const ev = later.vPaPerS - ahead.vPaPerS
    const spp = later.pp - ahead.pp
    const spv = later.pv - ahead.pv
    const svv = later.vv - ahead.vv
    smooth[i] = {
      pPa: here.pPa + g11 * ep + g12 * ev,
      vPaPerS: here.vPaPerS + g21 * ep + g22 * ev,
      pp: here.pp + g11 * (g11 * spp + g12 * spv) + g12 * (g11 * spv + g12 * svv),
      pv: here.pv + g11 * (g21 * spp + g22 * spv) + g12 * (g21 * spv + g22 * svv),
      vv: here.vv + g21 * (g21 * spp + g22 * spv) + g22 * (g21 * spv + g22 * svv),
    }
  }
  return smooth
}

const qGrid = [0.003, 0.01, 0.03, 0.1, 0.3, 1, 3, 10, 30, 100]
const noiseFactors = [1, 2, 4, 9]

/** A stretch of ramp, and how likely it is by each model of the grid. */
export type WeighedStretch = { stretch: readonly RampSample[]; noisePa: number; logLiks: readonly number[] }

function modelsOf(noisePa: number): RampModel[] {
  return noiseFactors.flatMap((factor) => qGrid.map((q) => ({ noiseVar: noisePa * noisePa * factor, q })))
}

/** `noisePa` is the noise at rest; readings in motion may be worse, never better. `before`: maybe the same one. */
export function weighStretch(stretch: readonly RampSample[], noisePa: number, before?: WeighedStretch): WeighedStretch {
  if (before?.noisePa === noisePa && isSame(before.stretch, stretch)) return before
  const tells = stretch.length > criteria.paceReadings
  const logLiks = modelsOf(noisePa).map((model) => (tells ? likelihoodOf(stretch, model) : 0))
  return { stretch, noisePa, logLiks }
}

/**
 * The model that makes the given stretches of ramp likeliest: q and noise from a coarse grid in which a factor of 3 in q
 * hardly moves the estimate.
 */
export function chooseRampModel(stretches: readonly WeighedStretch[], noisePa: number): RampModel {
  const usualQ = usualIntensity(stretches.map(({ stretch }) => stretch))
  let best: RampModel = { noiseVar: noisePa * noisePa, q: 0.1 }
  let bestLik = -Infinity
  for (const [i, model] of modelsOf(noisePa).entries()) {
    const usual = -0.5 * (Math.log(model.q / usualQ) / usualSpread) ** 2
    const total = stretches.reduce((sum, { logLiks }) => sum + logLiks[i]!, usual)
    if (total > bestLik) [best, bestLik] = [model, total]
  }
  return best
}

/** A hand changes its rate by about a tenth every quarter of a second, give or take a factor of e² in q: common practice, no source. */
const usualChange = { share: 0.1, everyS: 0.25 }
const usualSpread = 2
/** A hand at rest would have no usual change at all, Pa/s. */
const slowestPaPerS = 0.1

/** The usual q at the pace of the stretches: where they are short, they alone cannot tell a steady hand from a lucky one. */
function usualIntensity(stretches: readonly (readonly RampSample[])[]): number {
  const rates = stretches.flatMap((s) => {
    const [first, last] = [s[0], s.at(-1)]
    return first && last && last.tS > first.tS
      ? [Math.abs((last.pressurePa - first.pressurePa) / (last.tS - first.tS))]
      : []
  })
  const rate = Math.max(median(rates) ?? 0, slowestPaPerS)
  return (usualChange.share * rate) ** 2 / usualChange.everyS
}
