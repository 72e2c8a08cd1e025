// The fall of a pressure that was let go at once into how quickly the display follows: its time constant.
import { median } from '../statistics/mean.ts'

export type ShownSample = { tUs: number; pressurePa: number }

export type StepResponse = {
  /** Level before the fall, above rest, Pa; its sign as displayed. */
  fromPa: number
  /** Time constant of the fall, s: from 90 % to 1/e of the level, over ln(0.9 e). */
  tauS: number
  /** Time between readings, s: what is quicker than one of them cannot be told. */
  intervalS: number
}

/** Longer than this from 90 % to 10 % and it was the hand, not the display: common practice, no source. */
const quickestHandS = 2
/** The level stands this long before it is let go. */
const holdS = 0.8

/**
 * The last quick fall from a held level to rest among `samples` (in order); null where there is none. `restPa` is the
 * reading at rest, `leastPa` the smallest level that counts.
 */
export function stepResponse(samples: readonly ShownSample[], restPa: number, leastPa: number): StepResponse | null {
  for (let i = samples.length - 1; i > 0; i--) {
    const level = samples[i - 1]!.pressurePa - restPa
    const next = samples[i]!.pressurePa - restPa
    if (Math.abs(level) < leastPa || next / level > 0.9) continue
    const held = samples.slice(0, i).filter((s) => s.tUs >= samples[i - 1]!.tUs - holdS * 1e6)
    const steady = held.length >= 3 && held.every((s) => Math.abs((s.pressurePa - restPa) / level - 1) < 0.1)
    if (!steady) continue
    const fromPa = median(held.map((s) => s.pressurePa - restPa)) ?? level
    const startUs = crossingUs(samples, i, restPa, 0.9 * fromPa)
    const eUs = crossingUs(samples, i, restPa, fromPa / Math.E)
    const endUs = crossingUs(samples, i, restPa, 0.1 * fromPa)
    if (startUs === null || eUs === null || endUs === null || endUs - startUs > quickestHandS * 1e6) continue
    const gaps = samples.slice(1).map((s, k) => s.tUs - samples[k]!.tUs)
    return { fromPa, tauS: (eUs - startUs) / 1e6 / Math.log(0.9 * Math.E), intervalS: (median(gaps) ?? 0) / 1e6 }
  }
  return null
}

/** When the fall that begins before sample `from` first comes down to `levelPa` above rest, linear between readings. */
function crossingUs(samples: readonly ShownSample[], from: number, restPa: number, levelPa: number): number | null {
  for (let i = from; i < samples.length; i++) {
    const [a, b] = [samples[i - 1]!, samples[i]!]
    const [before, after] = [(a.pressurePa - restPa) / levelPa, (b.pressurePa - restPa) / levelPa]
    if (after <= 1) return before <= 1 ? a.tUs : a.tUs + ((before - 1) / (before - after)) * (b.tUs - a.tUs)
  }
  return null
}
