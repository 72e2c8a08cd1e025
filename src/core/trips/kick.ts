// The readings around one trip into how likely each moment of it is: the kick's step dates the trip in the pressure stream.
import { criteria } from '../criteria.table.ts'
import {
  filterRamp,
  isSurprise,
  logGauss,
  paceJump,
  predictRamp,
  type RampModel,
  type RampSample,
  type RampState,
  smoothRamp,
} from './ramp.ts'

/** Damping time constants of the manometer that are considered, s; the session's data weigh them. */
export const dampingGridS = [0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.65, 0.8, 1.2] as const

/** One short interval of pressure time in which the trip may lie. */
export type TripCell = {
  tS: number
  widthS: number
  /** The ramp at its middle, as displayed: from what stands before it alone, which no kick has touched … */
  before: RampState
  /** … and from both sides, the better one where there is no kick. */
  smooth: RampState
  /** Log likelihood of the readings if the trip's kick begins here, for each damping of `dampingGridS`. */
  logLiks: readonly number[]
}

export type TripSurface = {
  cells: readonly TripCell[]
  kick: {
    /** Log of how much likelier the readings are with a kick than without. */
    evidence: number
    /** Pa, against the ramp; the estimate at the likeliest moment. */
    sizePa: number
    sizeVar: number
    /** Larger is no kick of a switch. */
    mostPa: number
  }
}

/** A gap between readings is looked at in so many cells, none of them much shorter than the cell of ten readings a second. */
const cellsPerGap = 4
const shortestCellS = 0.025
/** A gap this much less likely than the best is not looked at more finely. */
const negligible = 10
const coarseStep = 3
const nearestCoarse = (d: number, count: number) =>
  Math.min(Math.round(d / coarseStep) * coarseStep, Math.floor((count - 1) / coarseStep) * coarseStep)

/**
 * Likelihood of each moment between `fromS` and `toS`. `direction` is +1 on a rising stroke; `largestPa` bounds the
 * kick (prior sd), `dampingsS` are those considered. Without readings around the range the surface is empty.
 */
export function tripSurface(
  samples: readonly RampSample[],
  fromS: number,
  toS: number,
  direction: 1 | -1,
  model: RampModel,
  largestPa: number,
  dampingsS: readonly number[] = dampingGridS,
): TripSurface {
  const filtered = filterRamp(samples, model)
  const smooth = smoothRamp(samples, filtered)
  const noKick = filtered.logLiks.at(-1) ?? 0
  const gaps: number[] = []
  for (let i = 1; i < samples.length; i++) if (samples[i]!.tS > fromS && samples[i - 1]!.tS < toS) gaps.push(i)
  const fitAt = (gap: number, tS: number, widthS: number, dampingS: number) => {
    const start = predictRamp(filtered.states[gap - 1]!, tS - samples[gap - 1]!.tS, model)
    const tail = kickTail(samples, gap, { tS, widthS, dampingS }, start, direction, model, largestPa)
    return { ...tail, logLik: filtered.logLiks[gap - 1]! + tail.logLik }
  }
  let best = { logLik: -Infinity, sizePa: 0, sizeVar: largestPa ** 2 }
  const rough = gaps.map((gap) => {
    const [start, end] = [samples[gap - 1]!.tS, samples[gap]!.tS]
    const fitDamping = (d: number) => {
      const found = fitAt(gap, (start + end) / 2, end - start, dampingsS[d]!)
      if (found.logLik > best.logLik) best = found
      return found.logLik
    }
    // Neighbours on the grid of dampings are alike: every third is enough to rule a gap out.
    const coarse = dampingsS.map((_, d) => (d % coarseStep === 0 ? fitDamping(d) : null))
    return dampingsS.map((_, d) => coarse[d] ?? coarse[nearestCoarse(d, dampingsS.length)]!)
  })
  const cells = gaps.flatMap((gap, g) => {
    const roughLiks = rough[g]!
    const start = samples[gap - 1]!
    const end = samples[gap]!
    const count = Math.max(1, Math.min(cellsPerGap, Math.ceil((end.tS - start.tS) / shortestCellS)))
    const widthS = (end.tS - start.tS) / count
    const fine = Math.max(...roughLiks) > best.logLik - negligible
    return Array.from({ length: count }, (_, k): TripCell => {
      const tS = start.tS + (k + 0.5) * widthS
      return {
        tS,
        widthS,
        before: predictRamp(filtered.states[gap - 1]!, tS - start.tS, model),
        smooth: between(smooth[gap - 1]!, smooth[gap]!, (k + 0.5) / count, end.tS - start.tS),
        logLiks: fine
          ? dampingsS.map((dampingS, d) => {
              if (dampingS === 0) return roughLiks[d]!
              const found = fitAt(gap, tS, widthS, dampingS)
              if (found.logLik > best.logLik) best = found
              return found.logLik
            })
          : roughLiks,
      }
    })
  })
  const evidence = best.logLik - noKick
  return { cells, kick: { evidence, sizePa: best.sizePa, sizeVar: best.sizeVar, mostPa: criteria.kickSds * largestPa } }
}

/**
 * Whether a kick stands out, by its evidence and by the noise of a reading. One as large as would trip any switch back is
 * a plunger that jerks, and dates nothing.
 */
export function kickSeen({ kick }: TripSurface, model: RampModel): boolean {
  const leastPa = criteria.kickNoises * Math.sqrt(model.noiseVar)
  return kick.evidence > criteria.kickEvidence && kick.sizePa > leastPa && kick.sizePa < kick.mostPa
}

/** Cubic Hermite between two smoothed readings: exact for the pressures and rates at both ends. */
function between(a: RampState, b: RampState, x: number, dtS: number): RampState {
  const h10 = x * (1 - x) ** 2
  const h01 = x * x * (3 - 2 * x)
  const h11 = x * x * (x - 1)
  const rise = b.pPa - a.pPa
  const slope = dtS > 0 ? (6 * x * (1 - x) * rise) / dtS : 0
  const rate = (1 - x) * (1 - 3 * x) * a.vPaPerS + x * (3 * x - 2) * b.vPaPerS + slope
  return {
    pPa: a.pPa + h01 * rise + dtS * (h10 * a.vPaPerS + h11 * b.vPaPerS),
    vPaPerS: rate,
    pp: (1 - x) * a.pp + x * b.pp,
    pv: (1 - x) * a.pv + x * b.pv,
    vv: (1 - x) * a.vv + x * b.vv,
  }
}

/**
 * Log likelihood of the readings from `gap` on, if a kick of unknown size K ≥ 0 against the ramp began at `tS`: the
 * reading is p − direction·K·(1 − exp(−(t − tS)/damping)). Filter over [p, v, K]; K ~ N(0, largestPa²) cut at 0. Past the
 * trip the diaphragm rests on its stop and the same hand draws faster: that jump of the rate costs what any other does, or a mere change of
 * pace would pass for a kick.
 */
function kickTail(
  samples: readonly RampSample[],
  gap: number,
  { tS, widthS, dampingS }: { tS: number; widthS: number; dampingS: number },
  start: RampState,
  direction: 1 | -1,
  model: RampModel,
  largestPa: number,
): { logLik: number; sizePa: number; sizeVar: number } {
  const { q } = model
  let { pPa: p, vPaPerS: v, pp, pv, vv } = start
  let k = 0
  let pk = 0
  let vk = 0
  let kk = largestPa * largestPa
  let logLik = 0
  let atS = tS
  const tauS = dampingS === 0 ? undampedS : dampingS
  for (let i = gap; i < samples.length; i++) {
    const sample = samples[i]!
    const dt = sample.tS - atS
    const sinceS = sample.tS - tS
    // What of the kick does not show yet; nothing where a double could not tell it from 1.
    const left = sinceS < vanishedTaus * tauS ? Math.exp(-sinceS / tauS) : 0
    const unsure = left === 0 ? 0 : shapeVar(left, sinceS, widthS, dampingS) * (k * k + kk)
    const noiseVar = model.noiseVar + sample.extraVar + unsure
    atS = sample.tS
    p += v * dt
    pp += 2 * dt * pv + dt * dt * vv + (q * dt * dt * dt) / 3
    pv += dt * vv + (q * dt * dt) / 2
    vv += q * dt
    pk += dt * vk
    const h = -direction * (dampingS === 0 ? 1 : 1 - left)
    const error = sample.pressurePa - p - h * k
    const noJump = pp + 2 * h * pk + h * h * kk + noiseVar
    const jumpVar = dt * dt * paceJump.rateVar
    const plain = logGauss(error, noJump)
    // Only a surprise can pay for a jump.
    const jumped = isSurprise(error, noJump) ? logGauss(error, noJump + jumpVar) - paceJump.price : plain
    logLik += Math.max(plain, jumped)
    if (jumped > plain) {
      pp += jumpVar
      pv += dt * paceJump.rateVar
      vv += paceJump.rateVar
    }
    const cp = pp + h * pk
    const cv = pv + h * vk
    const ck = pk + h * kk
    const variance = cp + h * ck + noiseVar
    const gp = cp / variance
    const gv = cv / variance
    const gk = ck / variance
    p += gp * error
    v += gv * error
    k += gk * error
    pp -= gp * cp
    pv -= gp * cv
    pk -= gp * ck
    vv -= gv * cv
    vk -= gv * ck
    kk -= gk * ck
  }
  return { logLik: logLik + logPositive(k / Math.sqrt(kk)), sizePa: k, sizeVar: kk }
}

/** After so many time constants exp(−t/τ) is below what a double adds to 1. */
const vanishedTaus = 37
/** A display without damping still takes a moment over a step, s: common practice, no source. */
const undampedS = 0.0125

/** Distance of neighbours on the grid of dampings: s, and of the damping where that is more. */
const gridStepS = 0.05
const gridStepShare = 0.25

/**
 * Variance of the share of a kick that shows `sinceS` after it, where `left` of it does not: begun anywhere in its cell,
 * damped by anything between neighbours of the grid.
 */
function shapeVar(left: number, sinceS: number, widthS: number, dampingS: number): number {
  if (dampingS === 0) return (left * left) / 4
  const slope = left / dampingS
  const stepS = Math.max(gridStepS, gridStepShare * dampingS)
  return ((slope * widthS) ** 2 + ((slope * sinceS * stepS) / dampingS) ** 2) / 12
}

/** log(2·Φ(z)) to a few per cent (logistic approximation, Φ(z) ≈ 1/(1 + exp(−1.702 z))): only its order counts here. */
function logPositive(z: number): number {
  return Math.log(2) - Math.log1p(Math.exp(-1.702 * z))
}
