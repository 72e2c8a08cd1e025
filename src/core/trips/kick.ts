// The readings around one trip into how likely each moment of it is: the kick's step dates the trip in the pressure stream.
import { criteria } from '../criteria.table.ts'
import { type Joined, joinRamp, laterOf } from './later.ts'
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
import type { Response } from './response.ts'

/** One short interval of pressure time in which the trip may lie. */
export type TripCell = {
  tS: number
  widthS: number
  /** The ramp at its middle, as displayed: from what stands before it alone, which no kick has touched … */
  before: RampState
  /** … and from both sides, the better one where there is no kick. */
  smooth: RampState
  /** Log likelihood of the readings if the trip's kick begins here, for each of the shapes that are considered. */
  logLiks: readonly number[]
}

export type TripSurface = {
  cells: readonly TripCell[]
  /** The shapes of a kick that were considered. */
  answers: readonly Response[]
  kick: {
    /** Log of how much likelier the readings are with a kick than without. */
    evidence: number
    /** It shows as one that fades; alone, without the other trips of its session, it must show by more. */
    fades: boolean
    /** Pa, against the ramp; the estimate at the likeliest moment. */
    sizePa: number
    sizeVar: number
    /** Larger is no kick of a switch. */
    mostPa: number
  }
}

/** For each shape of the kick the log likelihood of its best moment. */
export function bestLogLiks({ cells, answers }: TripSurface): number[] {
  return answers.map((_, d) => cells.reduce((best, c) => Math.max(best, c.logLiks[d]!), Number.NEGATIVE_INFINITY))
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
 * kick (prior sd), `answers` are the manometer's responses that are considered. Without readings around the range the surface is empty.
 */
export function tripSurface(
  samples: readonly RampSample[],
  fromS: number,
  toS: number,
  direction: 1 | -1,
  model: RampModel,
  largestPa: number,
  answers: readonly Response[],
): TripSurface {
  const filtered = filterRamp(samples, model)
  const smooth = smoothRamp(samples, filtered)
  const later = laterOf(samples, model, largestPa)
  const noKick = filtered.logLiks.at(-1) ?? 0
  const windowS = kickWindowS(samples)
  const gaps: number[] = []
  for (let i = 1; i < samples.length; i++) if (samples[i]!.tS > fromS && samples[i - 1]!.tS < toS) gaps.push(i)
  const fitAt = (gap: number, tS: number, widthS: number, answer: Response) => {
    const start = predictRamp(filtered.states[gap - 1]!, tS - samples[gap - 1]!.tS, model)
    const lookedAtS = answer.lasting ? answer.followedS : criteria.kickWindowDelays * answer.delayS
    const endS = tS + Math.max(windowS, lookedAtS)
    const tail = kickTail(samples, gap, { tS, endS, widthS, answer }, start, direction, model, largestPa)
    const next = later[tail.end]
    const told = answer.lasting ? next?.steady : next?.fading
    const dtS = told ? samples[tail.end]!.tS - tail.atS : 0
    const joined = told ? joinRamp(predictRamp(tail.left, dtS, model), told) : null
    // Behind what is left of a fading kick the ramp says no more of its size.
    const size = answer.lasting && joined ? sizeWith(tail, dtS, joined) : tail
    const logLik = filtered.logLiks[gap - 1]! + tail.logLik + logPositive(size) + (joined?.logLik ?? 0)
    return { sizePa: size.sizePa, sizeVar: size.sizeVar, lasting: answer.lasting, logLik }
  }
  let best = { logLik: -Infinity, sizePa: 0, sizeVar: largestPa ** 2, lasting: true }
  const rough = gaps.map((gap) => {
    const [start, end] = [samples[gap - 1]!.tS, samples[gap]!.tS]
    const fitAnswer = (d: number) => {
      const found = fitAt(gap, (start + end) / 2, end - start, answers[d]!)
      if (worth(found) > worth(best)) best = found
      return found.logLik
    }
    // Neighbours among the responses are alike: every third is enough to rule a gap out.
    const coarse = answers.map((_, d) => (d % coarseStep === 0 ? fitAnswer(d) : null))
    return answers.map((_, d) => coarse[d] ?? coarse[nearestCoarse(d, answers.length)]!)
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
      const before = predictRamp(filtered.states[gap - 1]!, tS - start.tS, model)
      // A make happens on the way up and a break on the way down: behind the first reading of a kick the ramp seems to turn.
      const turns = direction * before.vPaPerS + criteria.turnSds * Math.sqrt(before.vv) < 0
      const price = turns ? -criteria.turnLogLik : 0
      return {
        tS,
        widthS,
        before,
        smooth: between(smooth[gap - 1]!, smooth[gap]!, (k + 0.5) / count, end.tS - start.tS),
        logLiks: fine
          ? answers.map((answer, d) => {
              if (answer.sharp) return roughLiks[d]! + price
              const found = fitAt(gap, tS, widthS, answer)
              if (!turns && worth(found) > worth(best)) best = found
              return found.logLik + price
            })
          : roughLiks,
      }
    })
  })
  // A shape that lets the hand change its pace behind it must pay for that, or the change would be the evidence.
  const evidence = worth(best) - noKick
  return {
    cells,
    answers,
    kick: {
      evidence,
      fades: !best.lasting,
      sizePa: best.sizePa,
      sizeVar: best.sizeVar,
      mostPa: criteria.kickSds * largestPa,
    },
  }
}

/**
 * Whether a kick stands out, by its evidence and by the noise of a reading. One as large as would trip any switch back is
 * a plunger that jerks, and dates nothing.
 */
export function kickSeen({ kick }: TripSurface, model: RampModel): boolean {
  const leastPa = criteria.kickNoises * Math.sqrt(model.noiseVar)
  const evidence = kick.evidence - (kick.fades ? fadingPrice : 0)
  return evidence > criteria.kickEvidence && kick.sizePa > leastPa && kick.sizePa < kick.mostPa
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
 * How long after its onset a kick is looked at, s: what comes later is the hand's, and what is left of the kick fades as the air
 * takes the temperature of its wall, or as hand and vent fill it up. Neither may move the onset.
 */
function kickWindowS(samples: readonly RampSample[]): number {
  const [first, last] = [samples[0], samples.at(-1)]
  if (!first || !last || samples.length <= 1) return criteria.kickWindowS
  const intervalS = (last.tS - first.tS) / (samples.length - 1)
  return Math.max(criteria.kickWindowS, criteria.kickWindowReadings * intervalS)
}

type Size = { sizePa: number; sizeVar: number }

/**
 * `end` is the first reading that was not looked at, `left` what the ramp looks like to it from `atS`; `sizeP`, `sizeV`: the
 * covariances of the kick's size with that.
 */
type Tail = Size & { logLik: number; end: number; atS: number; left: RampState; sizeP: number; sizeV: number }

/**
 * Log likelihood of the readings from `gap` up to `endS`, if a kick of unknown size K ≥ 0 against the ramp began at `tS`: the
 * reading is p − direction·K·shown(t − tS). Filter over [p, v, K]; K ~ N(0, largestPa²) cut at 0. Past the
 * trip the diaphragm rests on its stop and the same hand draws faster: that jump of the rate costs what any other does, or a mere change of
 * pace would pass for a kick.
 */
function kickTail(
  samples: readonly RampSample[],
  gap: number,
  { tS, endS, widthS, answer }: { tS: number; endS: number; widthS: number; answer: Response },
  start: RampState,
  direction: 1 | -1,
  model: RampModel,
  largestPa: number,
): Tail {
  const { q } = model
  let { pPa: p, vPaPerS: v, pp, pv, vv } = start
  let k = 0
  let pk = 0
  let vk = 0
  let kk = largestPa * largestPa
  let logLik = 0
  let atS = tS
  let i = gap
  for (; i < samples.length && samples[i]!.tS <= endS; i++) {
    const sample = samples[i]!
    const dt = sample.tS - atS
    const sinceS = sample.tS - tS
    const share = answer.shown(sinceS)
    const noiseVar = model.noiseVar + sample.extraVar + answer.shownVar(sinceS, widthS) * (k * k + kk)
    atS = sample.tS
    p += v * dt
    pp += 2 * dt * pv + dt * dt * vv + (q * dt * dt * dt) / 3
    pv += dt * vv + (q * dt * dt) / 2
    vv += q * dt
    pk += dt * vk
    const h = -direction * share
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
  // What follows sees the ramp less the kick, or less what is left of one that fades: anything between all that shows and none.
  const share = answer.shown(atS - tS)
  const h = (-direction * share) / (answer.lasting ? 1 : 2)
  const fadedVar = answer.lasting ? 0 : ((k * k + kk) * h * h) / 3
  const left = {
    pPa: p + h * k,
    vPaPerS: v,
    pp: pp + 2 * h * pk + h * h * kk + fadedVar,
    pv: pv + h * vk,
    vv: vv + fadedVar / criteria.kickFadesS ** 2,
  }
  return { logLik, sizePa: k, sizeVar: kk, end: i, atS, left, sizeP: pk + h * kk, sizeV: vk }
}

/** The size of a kick that stays, after all that comes later as well: the ramp there is the one before less the kick. */
function sizeWith(tail: Tail, dtS: number, { missPa, missPaPerS, pp, pv, vv }: Joined): Size {
  const { sizePa, sizeVar, sizeV } = tail
  const sizeP = tail.sizeP + dtS * sizeV
  const det = pp * vv - pv * pv
  const gainP = (sizeP * vv - sizeV * pv) / det
  const gainV = (sizeV * pp - sizeP * pv) / det
  return {
    sizePa: sizePa + gainP * missPa + gainV * missPaPerS,
    sizeVar: sizeVar - gainP * sizeP - gainV * sizeV,
  }
}

/** What a shape is worth as evidence that there is a kick at all. */
const worth = (found: { logLik: number; lasting: boolean }) => found.logLik - (found.lasting ? 0 : fadingPrice)

/** Log likelihood that a fading kick must bring beyond one that stays: a change of pace. */
const fadingPrice = paceJump.price

/** log(2·Φ(z)) of a size in its sds, to a few per cent (logistic approximation, Φ(z) ≈ 1/(1 + exp(−1.702 z))): only its order counts here. */
function logPositive({ sizePa, sizeVar }: Size): number {
  return Math.log(2) - Math.log1p(Math.exp((-1.702 * sizePa) / Math.sqrt(sizeVar)))
}
