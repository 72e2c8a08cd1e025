// An undecided result into what would settle it, its value staying as it is: more cycles, else a better manometer, else neither.
import { criteria } from '../criteria.table.ts'
import type { Rating } from '../model/part.ts'
import type { BudgetLine, LimitResult, Result } from '../model/result.ts'
import type { RigSpec } from '../model/rig.ts'
import { studentQuantile } from '../statistics/student.ts'
import { effectiveDof } from '../statistics/welch-satterthwaite.ts'
import type { Measurand } from '../uncertainty/budget.ts'
import { guardBandsOf, outcome } from './acceptance.ts'

/** What would settle one undecided quantity. */
export type Settling = {
  quantity: Measurand
  /** Counted cycles in all; null where no number of them would do. */
  cycles: number | null
  /** With the cycles it has: how far a manometer may be wrong (half-width, Pa); null where no manometer would do. */
  accuracyPa: number | null
  /** The component that holds most of the uncertainty. */
  largest: string
}

const quantities: readonly Measurand[] = ['make', 'break', 'differential']

/** What the rig states of its manometer, as the budget names it. */
const ofManometer: readonly string[] = ['gauge', 'certificate', 'drift', 'between-points', 'hysteresis']

/** What would settle each undecided quantity of `result`; empty where none is undecided. */
export function settlingsOf(result: Result, rating: Rating, rig: RigSpec): Settling[] {
  return quantities.flatMap((quantity): Settling[] => {
    const limit = result.limits.find((l) => l.name === quantity)
    if (limit?.outcome !== 'undecided') return []
    const budget = result.budget.filter((line) => line.quantity === quantity)
    const { valuePa, n, allowLowPa, allowHighPa } = result[quantity]
    // Below two trips nothing is known of the scatter; the fewest that count are due anyway.
    if (valuePa === null || n <= 1)
      return [{ quantity, cycles: criteria.fewestCycles, accuracyPa: null, largest: 'scatter' }]
    const decides = decider(valuePa, limit, guardBandsOf(rating.kind, quantity, rig), {
      lowPa: allowLowPa ?? 0,
      highPa: allowHighPa ?? 0,
    })
    const largest = budget.reduce((most, line) => (line.uPa > most.uPa ? line : most)).component
    return [{ quantity, cycles: cyclesFor(budget, n, decides), accuracyPa: accuracyFor(budget, decides), largest }]
  })
}

/** Counted cycles in all at which every undecided quantity would be decided: 0 where none is, null where cycles would not do it. */
export function cyclesToSettle(settlings: readonly Settling[]): number | null {
  return settlings.reduce<number | null>(
    (most, { cycles }) => (most === null || cycles === null ? null : Math.max(most, cycles)),
    0,
  )
}

type Part = Pick<BudgetLine, 'uPa' | 'dof'>

function decider(
  valuePa: number,
  { lowPa, highPa }: LimitResult,
  guards: { low: number; high: number },
  allow: { lowPa: number; highPa: number },
) {
  return (parts: readonly Part[]): boolean => {
    const dof = effectiveDof(parts.map(({ uPa, dof }) => ({ u: uPa, dof }))) ?? Number.POSITIVE_INFINITY
    const UPa = studentQuantile(criteria.coverageQuantile, dof) * Math.hypot(...parts.map((p) => p.uPa))
    return outcome(valuePa, UPa, lowPa, highPa, guards.low, guards.high, allow) !== 'undecided'
  }
}

/** Only the scatter shrinks with more cycles, by 1/√n, and is better known: JCGM 100:2008, 4.2.3 and G.4.1. */
function cyclesFor(budget: readonly BudgetLine[], n: number, decides: (parts: Part[]) => boolean): number | null {
  for (let cycles = n + 1; cycles <= criteria.settlingCycles; cycles++) {
    const parts = budget.map(({ component, uPa, dof }) =>
      component === 'scatter'
        ? { uPa: uPa * Math.sqrt(n / cycles), dof: dof === null ? null : (dof * (cycles - 1)) / (n - 1) }
        : { uPa, dof },
    )
    if (decides(parts)) return cycles
  }
  return null
}

/** Steps to it are halved down to this part of what the manometer has now. */
const finestPart = 200

/** The largest half-width of a rectangle, to a hundredth of it, that decides in place of what the manometer has now. */
function accuracyFor(budget: readonly BudgetLine[], decides: (parts: Part[]) => boolean): number | null {
  const others = budget.filter((line) => !ofManometer.includes(line.component))
  const nowPa = Math.sqrt(3) * Math.hypot(...budget.filter((line) => !others.includes(line)).map((line) => line.uPa))
  const wouldDo = (halfPa: number) => decides([...others, { uPa: halfPa / Math.sqrt(3), dof: null }])
  let good = 0
  for (let step = nowPa / 2; step > nowPa / finestPart; step /= 2) if (wouldDo(good + step)) good += step
  return good > 0 ? good : null
}
