// The fall of a pressure that was let go at once into how quickly the display follows: its time constant.
import { criteria } from '../criteria.table.ts'
import { indexAt } from '../statistics/index-at.ts'
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

/** Readings of a fall that are looked at: twice as long as it may last. */
const longestFallUs = 2 * criteria.letGoS * 1e6

/**
 * The last quick fall from a held level to rest among `samples` (in order); null where there is none. `restPa` is the
 * reading at rest, `leastPa` the smallest level that counts.
 */
export function stepResponse(samples: readonly ShownSample[], restPa: number, leastPa: number): StepResponse | null {
  const gaps = samples.slice(1).map((s, k) => s.tUs - samples[k]!.tUs)
  for (let i = samples.length - 1; i > 0; i--) {
    const lastUs = samples[i - 1]!.tUs
    if (Math.abs(samples[i - 1]!.pressurePa - restPa) < leastPa) continue
    const held = samples
      .slice(indexAt(samples, lastUs - criteria.letGoHeldS * 1e6), i)
      .map((s) => s.pressurePa - restPa)
    const fromPa = median(held) ?? 0
    if (held.length < criteria.letGoReadings) continue
    if (!held.every((level) => Math.abs(level / fromPa - 1) < criteria.letGoShare)) continue
    const fall = samples.slice(i - 1, indexAt(samples, lastUs + longestFallUs))
    const [startUs, eUs, endUs] = [0.9, 1 / Math.E, 0.1].map((share) => crossingUs(fall, restPa, share * fromPa))
    if (startUs == null || eUs == null || endUs == null || endUs - startUs > criteria.letGoS * 1e6) continue
    return { fromPa, tauS: (eUs - startUs) / 1e6 / Math.log(0.9 * Math.E), intervalS: (median(gaps) ?? 0) / 1e6 }
  }
  return null
}

/** When `fall` first comes down to `levelPa` above rest, linear between readings; null where it does not. */
function crossingUs(fall: readonly ShownSample[], restPa: number, levelPa: number): number | null {
  for (let i = 1; i < fall.length; i++) {
    const [a, b] = [fall[i - 1]!, fall[i]!]
    const [before, after] = [(a.pressurePa - restPa) / levelPa, (b.pressurePa - restPa) / levelPa]
    if (after <= 1) return before <= 1 ? a.tUs : a.tUs + ((before - 1) / (before - after)) * (b.tUs - a.tUs)
  }
  return null
}
