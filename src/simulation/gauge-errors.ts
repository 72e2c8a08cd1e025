// A true pressure into the one that a manometer takes it for: gain, zero, hysteresis, a bow between its certificate's points.
import type { Random } from './random.ts'

export type GaugeErrors = {
  gainError: number
  offsetPa: number
  offsetDriftPaPerS: number
  /** Reads low by up to `halfPa` on the rise and high on the fall, most in the middle of `spanPa`; null = none. */
  hysteresis: { halfPa: number; spanPa: number } | null
  /** A parabola of this height between two points of its certificate, where it is right; null = none. */
  bow: { heightPa: number; fromPa: number; toPa: number } | null
  /** At each vent the zero is off by this much and comes back. */
  zeroBump: { offsetPa: number; tauS: number } | null
  noisePa: number
}

/** Where the pressure has to have turned by so much of the span before the other branch of the loop is reached: common practice, no source. */
const turnShare = 0.05

export type Gauge = {
  /** Follows the pressure to the end of a step. */
  follow(pressurePa: number): void
  /** The vent was opened. */
  vented(timeUs: number): void
  read(pressurePa: number, timeUs: number): number
}

export function createGauge(errors: GaugeErrors, random: Random): Gauge {
  const { hysteresis, bow, zeroBump } = errors
  let lastPa = 0
  /** From −1, falling, to 1, rising. */
  let branch = 0
  let bumpUs: number | null = null
  const hump = (pressurePa: number, fromPa: number, toPa: number) =>
    Math.max(0, (4 * (pressurePa - fromPa) * (toPa - pressurePa)) / (toPa - fromPa) ** 2)

  return {
    follow(pressurePa) {
      if (hysteresis) {
        const turned = (pressurePa - lastPa) / (turnShare * hysteresis.spanPa)
        branch = Math.max(-1, Math.min(1, branch + turned))
      }
      lastPa = pressurePa
    },
    vented(timeUs) {
      bumpUs = timeUs
    },
    read(pressurePa, timeUs) {
      let readPa = pressurePa * (1 + errors.gainError) + errors.offsetPa + (errors.offsetDriftPaPerS * timeUs) / 1e6
      if (hysteresis) readPa -= branch * hysteresis.halfPa * hump(pressurePa, 0, hysteresis.spanPa)
      if (bow) readPa += bow.heightPa * hump(pressurePa, bow.fromPa, bow.toPa)
      if (zeroBump && bumpUs !== null && timeUs >= bumpUs)
        readPa += zeroBump.offsetPa * Math.exp(-(timeUs - bumpUs) / (zeroBump.tauS * 1e6))
      return readPa + random.normal(errors.noisePa)
    },
  }
}
