// The limits into the first that only an allowance keeps undecided, and which one: the hose's lag or a leak.
import type { Analysis } from '../analyse.ts'
import type { NotProved } from '../diagnosis/rule.ts'
import type { LimitResult } from '../model/result.ts'
import { guardBandsOf, outcome } from './acceptance.ts'

/** null where no limit would pass without its allowance. */
export function notProved({ measured, setup }: Analysis, limits: readonly LimitResult[]): NotProved | null {
  for (const quantity of ['make', 'break', 'differential'] as const) {
    const limit = limits.find((l) => l.name === quantity)
    const { estimate, allowance } = measured[quantity]
    const { valuePa, UPa } = estimate
    if (limit?.outcome !== 'undecided' || valuePa === null || UPa === null) continue
    const guards = guardBandsOf(setup.rating.kind, quantity, setup.rig)
    if (outcome(valuePa, UPa, limit.lowPa, limit.highPa, guards.low, guards.high) !== 'pass') continue
    const { lowPa, highPa, leakPa } = allowance
    // The squares of the two add: this is the leak's where it is the greater.
    const hosePa = Math.sqrt(Math.max(0, lowPa * lowPa - leakPa * leakPa))
    return { quantity, lowPa, highPa, leak: leakPa > Math.max(hosePa, highPa) }
  }
  return null
}
