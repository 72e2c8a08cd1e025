// The air of the bench in numbers: volumes, leaks and hoses into compliances, resistances, and the sizes of kick and slip.

/** Standard atmosphere by definition, Pa (ISO 2533:1975). */
export const atmospherePa = 101_325

/** Ratio of the heat capacities of air, rounded (ideal diatomic gas: 7/5). */
export const gasExponent = 1.4

/** Viscosity of air at about 20 °C, Pa·s: from memory. */
const viscosityPaS = 1.82e-5

export type Pneumatics = {
  /** Air in the bottle between syringe and tee. */
  ballastL: number
  /** Volume that the diaphragm gives way per Pa while it floats: assumed for a small draft switch, to be measured on a real one. */
  complianceM3PerPa: number
  /** It floats from this share of the break point, and up to this share of the make point; beyond them it rests on a stop. */
  floats: { fromBreakShare: number; toMakeShare: number }
  /** Plunger area of the syringe: bore 26.7 mm of a common 60 mL syringe (common practice, no source). */
  plungerMm2: number
  /** Time in which the air of the bottle takes the temperature of its wall; wire wool makes it short; 0 = at once. */
  wallS: number
  /** Time constant of a leak of the bottle to the room, of the bottle alone; null = tight. */
  leakTauS: number | null
  /** The same for a leak at the tee. */
  teeLeakTauS: number | null
  /** What a leak at the switch or in its diaphragm leaves of the tee's pressure; 1 = tight. */
  switchSeesShare: number
  /** A needle that is always open, against which a source draws; null = a plunger and no needle. */
  needleTauS: number | null
  /** Time constant of the fall of the whole bench when the vent is opened, the diaphragm floating. */
  ventTauS: number
  /** Time constant of a plugged hose between tee and switch, the diaphragm floating; 0 = clean: what `hose` makes it. */
  hoseS: number
  /** A plug in that hose lets nothing through below this pressure across it, and takes it off what it lets through; 0 = none. */
  hoseHoldsPa: number
  hose: { lengthM: number; boreMm: number }
}

/** Air in the switch itself, and in the short hose from bottle to tee (common practice, no source). */
const switchChamberM3 = 10e-6
const bottleHose = { lengthM: 0.2, boreMm: 6 }

/** Pa·s/m³ of a round hose in laminar flow: Hagen and Poiseuille, R = 128 · viscosity · length / (pi · bore⁴). */
export function hoseResistance({ lengthM, boreMm }: { lengthM: number; boreMm: number }): number {
  return (128 * viscosityPaS * lengthM) / (Math.PI * (boreMm * 1e-3) ** 4)
}

function hoseM3({ lengthM, boreMm }: { lengthM: number; boreMm: number }): number {
  return lengthM * Math.PI * ((boreMm * 1e-3) / 2) ** 2
}

/** The bench as lumps: compliances in m³/Pa, resistances in Pa·s/m³, conductances to the room in m³/(Pa·s). */
export function lumpsOf(air: Pneumatics) {
  const bottle = (air.ballastL * 1e-3) / atmospherePa
  const tee = (hoseM3(air.hose) / 2 + hoseM3(bottleHose)) / atmospherePa
  const onStop = (switchChamberM3 + hoseM3(air.hose) / 2) / atmospherePa
  const floating = onStop + air.complianceM3PerPa
  const toSwitch = Math.max(hoseResistance(air.hose), air.hoseS / floating)
  const open = (tauS: number | null) => (tauS === null ? 0 : bottle / tauS)
  const all = bottle + tee + floating
  return {
    compliance: { bottle, tee, onStop, floating },
    resistance: { toTee: hoseResistance(bottleHose), toSwitch },
    conductance: {
      bottleLeak: open(air.leakTauS),
      needle: open(air.needleTauS),
      vent: all / air.ventTauS,
      teeLeak: open(air.teeLeakTauS),
      // A divider: of the tee's pressure the hose takes what the leak's flow needs.
      switchLeak: (1 / air.switchSeesShare - 1) / toSwitch,
    },
  }
}

/** Time constant of the hose between tee and switch, the diaphragm floating. */
export function hoseTauS(air: Pneumatics): number {
  const { compliance, resistance } = lumpsOf(air)
  return resistance.toSwitch * compliance.floating
}

/** Pa per mL of plunger travel in a closed volume: ideal gas, dP/dV = n · P0 / V; n = 1 slow (isothermal), 1.4 fast. */
export function pressurePerMl(volumeL: number, exponent = 1): number {
  return ((exponent * atmospherePa) / (volumeL * 1e-3)) * 1e-6
}

/**
 * Pressure in Pa that the diaphragm's jump takes back: of the air it moves, D · Cd, the volume's own compliance V/(n·P0) keeps
 * its share; n = 1.4 as it begins, 1 once the air has taken the wall's temperature.
 */
export function kickPa(differentialPa: number, air: Pneumatics, exponent = 1): number {
  const volumeM3PerPa = (air.ballastL * 1e-3) / (exponent * atmospherePa)
  return (differentialPa * air.complianceM3PerPa) / (air.complianceM3PerPa + volumeM3PerPa)
}

/** Pressure step in Pa that is left of one slip of the plunger by `slipMm` on all the air there is, the diaphragm floating. */
export function slipPa(slipMm: number, air: Pneumatics): number {
  const { compliance } = lumpsOf(air)
  return (slipMm * air.plungerMm2 * 1e-9) / (compliance.bottle + compliance.tee + compliance.floating)
}
