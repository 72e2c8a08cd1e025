// A result so far into the zones that its limits and guards make, to be drawn.

import { guardBandsOf } from '../decision/acceptance.ts'
import { acceptanceInterval } from '../decision/chances.ts'
import type { Result } from '../model/result.ts'
import type { Setup } from '../model/setup.ts'
import type { Band } from './guidance.ts'

/** One band for each quantity that has limits; without an estimate yet the guards are not known. */
export function bandsOf({ rating, rig }: Setup, result: Result | null): Band[] {
  return (['make', 'break', 'differential'] as const).flatMap((name): Band[] => {
    const limit = rating.limits[name]
    if (limit === null) return []
    const { valuePa = null, UPa = null } = result?.[name] ?? {}
    const allowed = { allowLowPa: result?.[name].allowLowPa ?? 0, allowHighPa: result?.[name].allowHighPa ?? 0 }
    if (UPa === null) return [{ name, limit, accept: null, valuePa, UPa, ...allowed }]
    const guards = guardBandsOf(rating.kind, name, rig)
    const { fromPa, toPa } = acceptanceInterval({ limit, UPa, guardLow: guards.low, guardHigh: guards.high })
    const open = (pa: number) => (Number.isFinite(pa) ? pa : null)
    const accept = fromPa > toPa ? null : { lowPa: open(fromPa), highPa: open(toPa) }
    return [{ name, limit, accept, valuePa, UPa, ...allowed }]
  })
}
