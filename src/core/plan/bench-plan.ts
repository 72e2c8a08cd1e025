// A part into the bench that suits it: ballast, syringe, needle vent, ramp, and what lag, heat and leaks may cost.
import { criteria } from '../criteria.table.ts'
import type { Rating } from '../model/part.ts'
import {
  kickPa,
  leakPaM3PerS,
  mlPerMinute,
  needleResistance,
  needleReynolds,
  sealedPaPerK,
  stiffnessPaPerM3,
  strokesTo,
  strokeVacuumPa,
  thermalTimeS,
  ventTimeS,
} from './air.ts'
import { expectedPoints } from './expected-test.ts'
import { rampRatePaPerS } from './ramp-rate.ts'

// A syringe of 60 mL with its bore, and the jerk of its plunger when it sticks: common practice, no source.
const syringeM3 = 60e-6
const plungerM2 = (Math.PI / 4) * 0.0267 ** 2
const stickSlipM = 0.1e-3
/** Bore of a thin needle and the length it is usually sold in, m: common practice, no source. */
const needleBoreM = 0.26e-3
const needlePieceM = 12.7e-3
/** How much a small diaphragm gives way, m³/Pa. Assumed; measured by a known step of the syringe, switch connected and not. */
export const assumedComplianceM3PerPa = 1.6e-8

/** Volumes of air: the bare hose and switch, and bottles with the radius they usually have: common practice, no source. */
const volumes = [
  { volumeM3: 50e-6, radiusM: 2.4e-3 },
  { volumeM3: 250e-6, radiusM: 32e-3 },
  { volumeM3: 1e-3, radiusM: 50e-3 },
  { volumeM3: 5e-3, radiusM: 80e-3 },
  { volumeM3: 10e-3, radiusM: 100e-3 },
] as const

export type Ballast = {
  litres: number
  /** Pressure for a millilitre: diaphragm on its stop (the worst for a jerk), and while it moves. */
  stiffPaPerMl: number
  softPaPerMl: number
  /** Syringe to the rated point, mL, at each. */
  stiffMl: number
  softMl: number
  /** Most vacuum that one stroke of the syringe can draw: no hand can exceed it. */
  oneStrokePa: number
  /** Strokes to the peak of a cycle. */
  strokes: number
  /** Jump when the plunger sticks and slips, diaphragm on its stop. */
  stickSlipPa: number
  kickPa: number
  /** After a quick move the pressure creeps with this time constant while the air takes the temperature of the wall. */
  thermalS: number
  suits: boolean
}

export type BenchPlan = {
  ratePaPerS: number
  peakPa: number
  ballasts: Ballast[]
  /** The smallest that suits; null where none does. */
  chosen: Ballast | null
  /** Thin needles one behind the other that vent the ballast chosen (else the largest) no faster than the ramp. */
  needle: {
    boreMm: number
    pieceMm: number
    pieces: number
    timeConstantS: number
    /** Rate at which they let the rated point down to the open air. */
    downPaPerS: number
    /** Source bottle, of the rated point, from which they raise it at the rate of the ramp. */
    sourceFactor: number
    reynolds: number
  }
  lag: {
    /** Error of make for each tenth of a second that is not known. */
    perTenthPa: number
    /** Standard uncertainty of the lag that costs no more than 5 % of T. */
    allowedUs: number
  }
  heat: { sealedPaPerK: number; allowedK: number }
  leak: { allowedPaPerS: number; allowedMlPerMin: number }
}

/** The plan for a part whose contact is looked at every `contactIntervalS`. */
export function planBench(rating: Rating, contactIntervalS: number): BenchPlan {
  const { ratedPa, halfTolerancePa } = rating
  const ratePaPerS = rampRatePaPerS(rating, contactIntervalS)
  const { makePa } = expectedPoints(rating)
  const peakPa = criteria.peakShare * makePa
  const ballasts = volumes.map((volume) => ballastOf(volume, rating, peakPa))
  const chosen = ballasts.find((b) => b.suits) ?? null
  const volumeM3 = (chosen ?? ballasts.at(-1)!).litres / 1000
  const allowedPaPerS = (criteria.leakShare * ratedPa) / 60
  return {
    ratePaPerS,
    peakPa,
    ballasts,
    chosen,
    needle: needleFor(volumeM3, ratedPa, ratePaPerS),
    lag: { perTenthPa: 0.1 * ratePaPerS, allowedUs: (criteria.lagShare * halfTolerancePa) / ratePaPerS },
    heat: { sealedPaPerK, allowedK: (criteria.lagShare * halfTolerancePa) / sealedPaPerK },
    leak: { allowedPaPerS, allowedMlPerMin: mlPerMinute(leakPaM3PerS(volumeM3, allowedPaPerS)) },
  }
}

/** What rounding may add to a whole number of pieces. */
const rounding = 1e-9

function needleFor(volumeM3: number, ratedPa: number, ratePaPerS: number): BenchPlan['needle'] {
  const piece = needleResistance(needleBoreM, needlePieceM)
  const pieceS = ventTimeS(piece, volumeM3, assumedComplianceM3PerPa)
  // Down at P/τ: slow enough once τ is as long as the ramp takes for the whole rated point.
  const pieces = Math.max(1, Math.ceil(ratedPa / ratePaPerS / pieceS - rounding))
  const timeConstantS = pieces * pieceS
  return {
    boreMm: needleBoreM * 1000,
    pieceMm: needlePieceM * 1000,
    pieces,
    timeConstantS,
    downPaPerS: ratedPa / timeConstantS,
    // Up from a source at k × rated at (k − 1) × rated/τ.
    sourceFactor: 1 + (ratePaPerS * timeConstantS) / ratedPa,
    reynolds: needleReynolds(needleBoreM, pieces * piece, ratedPa),
  }
}

function ballastOf({ volumeM3, radiusM }: (typeof volumes)[number], rating: Rating, peakPa: number): Ballast {
  const { ratedPa, halfTolerancePa, proofPa } = rating
  const { makePa, breakPa } = expectedPoints(rating)
  const stiff = stiffnessPaPerM3(volumeM3, 0)
  const soft = stiffnessPaPerM3(volumeM3, assumedComplianceM3PerPa)
  const oneStrokePa = strokeVacuumPa(volumeM3, syringeM3)
  const stickSlipPa = stiff * plungerM2 * stickSlipM
  const kick = kickPa(makePa - breakPa, assumedComplianceM3PerPa, volumeM3)
  const steady = stickSlipPa <= criteria.jerkShare * halfTolerancePa
  // What the kick and a jerk take back must not reach the break, or the switch trips again.
  const quiet = kick + stickSlipPa <= criteria.quietShare * (makePa - breakPa)
  const safe = proofPa === null || oneStrokePa <= criteria.proofShare * proofPa
  return {
    litres: volumeM3 * 1000,
    stiffPaPerMl: stiff / 1e6,
    softPaPerMl: soft / 1e6,
    stiffMl: (ratedPa / stiff) * 1e6,
    softMl: (ratedPa / soft) * 1e6,
    oneStrokePa,
    strokes: strokesTo(peakPa, volumeM3, syringeM3),
    stickSlipPa,
    kickPa: kick,
    thermalS: thermalTimeS(radiusM),
    suits: steady && quiet && safe,
  }
}
