// Volumes, strokes, needles and leaks of air near the atmosphere into pressures, flows and times. SI units throughout.

/** Standard atmosphere, Pa: ISO 2533:1975. The air of the day differs by some per cent, which no plan notices. */
export const atmospherePa = 101_325
/** Ratio of the heat capacities of air: ideal diatomic gas. */
export const gamma = 1.4
/** Viscosity of air at 20 °C, Pa·s: tables of properties, from memory. */
const viscosityPaS = 1.82e-5
/** Density of air at 20 °C and one atmosphere, kg/m³: ideal gas law with 287.05 J/(kg·K), as in ISO 2533:1975. */
const densityKgPerM3 = atmospherePa / (287.05 * 293.15)
/** Thermal diffusivity of air at 20 °C, m²/s: tables of properties, from memory. */
const diffusivityM2PerS = 2.12e-5
/** First zero of the Bessel function J0: Abramowitz and Stegun (1964), Table 9.5. */
const besselZero = 2.404825557695773

/**
 * Change of pressure for one of volume, Pa/m³, where `volumeM3` of air is beside a diaphragm that gives way by
 * `complianceM3PerPa` (0: it rests on its stop). Ideal gas law; `exponent` 1 = slow, γ = too fast for heat to follow.
 */
export function stiffnessPaPerM3(volumeM3: number, complianceM3PerPa: number, exponent = 1): number {
  return 1 / (volumeM3 / (exponent * atmospherePa) + complianceM3PerPa)
}

/** Vacuum that one stroke of a syringe draws in a closed volume, Pa, slowly: Boyle's law. */
export function strokeVacuumPa(volumeM3: number, strokeM3: number): number {
  return (atmospherePa * strokeM3) / (volumeM3 + strokeM3)
}

/** Strokes (with a check valve between them) to a vacuum, each taking the same share of what is left: Boyle's law. */
export function strokesTo(vacuumPa: number, volumeM3: number, strokeM3: number): number {
  return Math.ceil(Math.log(1 - vacuumPa / atmospherePa) / Math.log(volumeM3 / (volumeM3 + strokeM3)) - 1e-9)
}

/**
 * Loss of vacuum when the switch trips, Pa: its diaphragm sweeps what the differential is worth to it, and that volume
 * spreads over air and diaphragm.
 */
export function kickPa(differentialPa: number, complianceM3PerPa: number, volumeM3: number): number {
  return (differentialPa * complianceM3PerPa) / (complianceM3PerPa + volumeM3 / atmospherePa)
}

/** Resistance of a needle, Pa·s/m³: Hagen–Poiseuille, R = 128 μ L/(π d⁴). */
export function needleResistance(boreM: number, lengthM: number): number {
  return (128 * viscosityPaS * lengthM) / (Math.PI * boreM ** 4)
}

/** Reynolds number of the flow through a needle at `pressurePa`; above 2 000 Hagen–Poiseuille no longer holds. */
export function needleReynolds(boreM: number, resistance: number, pressurePa: number): number {
  return (4 * densityKgPerM3 * (pressurePa / resistance)) / (Math.PI * boreM * viscosityPaS)
}

/** Time constant with which a volume empties through a resistance, s. */
export function ventTimeS(resistance: number, volumeM3: number, complianceM3PerPa = 0): number {
  return resistance * (volumeM3 / atmospherePa + complianceM3PerPa)
}

/** Time constant with which the air in a long cylinder takes the temperature of its wall, s: a²/(j₀₁²·α). */
export function thermalTimeS(radiusM: number): number {
  return radiusM ** 2 / (besselZero ** 2 * diffusivityM2PerS)
}

/** Change of pressure of a closed volume per kelvin at 20 °C, Pa/K: ideal gas law. */
export const sealedPaPerK = atmospherePa / 293.15

/** Flow of a leak from the fall of pressure in a closed volume, Pa·m³/s: ideal gas law at one temperature. */
export function leakPaM3PerS(volumeM3: number, ratePaPerS: number): number {
  return volumeM3 * ratePaPerS
}

/** The same as millilitres of air at one atmosphere a minute. */
export function mlPerMinute(flowPaM3PerS: number): number {
  return (flowPaM3PerS / atmospherePa) * 1e6 * 60
}
