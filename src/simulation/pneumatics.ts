// The air of the bench: what a plunger, a leak, an open vent and the jump of the diaphragm do to the pressure at the tee.
import type { Stretch } from './response.ts'

/** Standard atmosphere by definition, Pa (ISO 2533:1975). */
export const atmospherePa = 101_325

export type Pneumatics = {
  /** Air between syringe and switch. */
  ballastL: number
  /** Volume that the diaphragm gives way per Pa: assumed for a small draft switch, to be measured on a real one. */
  complianceM3PerPa: number
  /** Plunger area of the syringe: bore 26.7 mm of a common 60 mL syringe (common practice, no source). */
  plungerMm2: number
  /** Time constant of a leak to the room; null = tight. */
  leakTauS: number | null
  /** Time constant of the fall when the vent is opened. */
  ventTauS: number
  /** Time constant of the hose between tee and switch; 0 = clean and short. */
  hoseS: number
}

/** Pa per mL of plunger travel in a closed volume: ideal gas, dP/dV = n · P0 / V; n = 1 slow (isothermal), 1.4 fast. */
export function pressurePerMl(volumeL: number, exponent = 1): number {
  return ((exponent * atmospherePa) / (volumeL * 1e-3)) * 1e-6
}

/** Pressure in Pa that the diaphragm's jump takes back: of the air it moves, D · Cd, the volume's own compliance V/P0 keeps its share. */
export function kickPa(differentialPa: number, air: Pneumatics): number {
  const volumeM3PerPa = (air.ballastL * 1e-3) / atmospherePa
  return (differentialPa * air.complianceM3PerPa) / (air.complianceM3PerPa + volumeM3PerPa)
}

/** Pressure step in Pa of one slip of the plunger by `slipMm`, the diaphragm on its stop. */
export function slipPa(slipMm: number, air: Pneumatics): number {
  return slipMm * air.plungerMm2 * 1e-3 * pressurePerMl(air.ballastL)
}

/** The open vent: pressure at the tee falls from `startPa` to the room's. */
export function vented(startPa: number, air: Pneumatics): Stretch {
  return { offsetPa: 0, slopePaPerS: 0, decays: [{ amplitudePa: startPa, tauS: air.ventTauS }] }
}

/**
 * The plunger at a steady speed that alone would give `ratePaPerS`: a straight ramp, or with a leak (laminar, its flow
 * in proportion to the pressure) the solution of P' = rate − P / tau. Air heats and cools slowly here, so its rebound is left out.
 */
export function drawn(startPa: number, ratePaPerS: number, air: Pneumatics): Stretch {
  if (air.leakTauS === null) return { offsetPa: startPa, slopePaPerS: ratePaPerS, decays: [] }
  const restPa = ratePaPerS * air.leakTauS
  return { offsetPa: restPa, slopePaPerS: 0, decays: [{ amplitudePa: startPa - restPa, tauS: air.leakTauS }] }
}
