// The limits into the first that only an allowance keeps undecided, and which one: the hose's lag or a leak.
import type { Analysis } from '../analyse.ts'
import type { NotProved } from '../diagnosis/rule.ts'
import type { LimitResult } from '../model/result.ts'
import { guardBandsOf, outcome } from './acceptance.ts'

/** null where no limit would pass without its allowance. */
export function notProved(analysis: Analysis, limits: readonly LimitResult[]): NotProved | null {
  const { measured, setup } = analysis
  const open = (quantity: NotProved['quantity']): NotProved => {
    const { lowPa, highPa, leakPa } = measured[quantity].allowance
    // The leak's where its square is more than half of the two.
    const hosePa = Math.sqrt(Math.max(0, lowPa * lowPa - leakPa * leakPa))
    return { quantity, lowPa, highPa, leak: leakPa > Math.max(hosePa, highPa) }
  }
  for (const quantity of ['make', 'break', 'differential'] as const) {
    const limit = limits.find((l) => l.name === quantity)
    const { valuePa, UPa } = measured[quantity].estimate
    if (limit?.outcome !== 'undecided' || valuePa === null || UPa === null) continue
    const guards = guardBandsOf(setup.rating.kind, quantity, setup.rig)
    if (outcome(valuePa, UPa, limit.lowPa, limit.highPa, guards.low, guards.high) !== 'pass') continue
    return open(quantity)
  }
  return null
}
