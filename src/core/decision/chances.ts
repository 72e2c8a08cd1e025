// Limits, guards and an uncertainty into the acceptance interval and the chances of pass, fail and undecided for a part of known truth.
import type { LimitPa } from '../model/part.ts'
import { normalCdf, normalPdf } from '../statistics/normal.ts'

/** Limits, the expanded uncertainty, and the guards as factors of it: JCGM 106:2012, 8.3.2 and 8.3.3. */
export type Ruled = { limit: LimitPa; UPa: number; guardLow: number; guardHigh: number }

type Zone = { fromPa: number; toPa: number }

/** Measured values that pass, Pa; without a limit on a side it is open (∓∞). `fromPa` above `toPa`: none passes. */
export function acceptanceInterval(ruled: Ruled): Zone {
  return guarded(ruled, 1)
}

function guarded({ limit, UPa, guardLow, guardHigh }: Ruled, sign: 1 | -1): Zone {
  return {
    fromPa: (limit.lowPa ?? Number.NEGATIVE_INFINITY) + sign * guardLow * UPa,
    toPa: (limit.highPa ?? Number.POSITIVE_INFINITY) - sign * guardHigh * UPa,
  }
}

export type Chances = { pass: number; undecided: number; fail: number }

/** Chances for a part whose true value is `truePa`, measured with standard uncertainty u: JCGM 106:2012, 9.3.2. */
export function chancesAt(truePa: number, uPa: number, ruled: Ruled): Chances {
  return chancesBy((zone) => {
    const share = normalCdf((zone.toPa - truePa) / uPa) - normalCdf((zone.fromPa - truePa) / uPa)
    return Math.max(0, share)
  }, ruled)
}

/**
 * The same for a part that may lie anywhere between its two limits with equal probability: the integral of JCGM
 * 106:2012, 9.3.2, in closed form, since zΦ(z) + φ(z) is the integral of Φ. null with fewer than two limits.
 */
export function chancesWithin(uPa: number, ruled: Ruled): Chances | null {
  const { lowPa, highPa } = ruled.limit
  if (lowPa === null || highPa === null) return null
  const integral = (z: number) => z * normalCdf(z) + normalPdf(z)
  const below = (edgePa: number) =>
    (uPa / (highPa - lowPa)) * (integral((edgePa - lowPa) / uPa) - integral((edgePa - highPa) / uPa))
  return chancesBy((zone) => Math.max(0, below(zone.toPa) - below(zone.fromPa)), ruled)
}

function chancesBy(shareOf: (zone: Zone) => number, ruled: Ruled): Chances {
  const [accepted, kept] = [guarded(ruled, 1), guarded(ruled, -1)]
  const pass = accepted.fromPa > accepted.toPa ? 0 : shareOf(accepted)
  const notFailed = shareOf(kept)
  return { pass, undecided: notFailed - pass, fail: 1 - notFailed }
}
