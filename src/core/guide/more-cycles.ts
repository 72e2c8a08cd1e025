// An undecided result into how many counted cycles would settle it, the value and scatter staying as they are.
import type { Analysis } from '../analyse.ts'
import type { Quantity } from '../decision/budget.ts'
import { guardsOf, outcome } from '../decision/conformance.ts'
import { fewestCycles } from '../decision/verdict.ts'
import type { Result } from '../result.ts'
import { studentQuantile } from '../statistics/student.ts'
import { effectiveDof } from '../statistics/welch-satterthwaite.ts'

/** Cycles that a bench would still do in one sitting: common practice, no source. */
const mostCycles = 25

const quantities: readonly Quantity[] = ['make', 'break', 'differential']

/**
 * Counted cycles in all at which every undecided limit would be decided; null where more of them would not do it.
 * 0 where nothing is undecided.
 */
export function cyclesToSettle(analysis: Analysis, result: Result): number | null {
  const open = quantities.filter((q) => result.limits.find((l) => l.name === q)?.outcome === 'undecided')
  if (open.length === 0) return 0
  const needed = open.map((q) => cyclesFor(q, analysis, result))
  return needed.some((n) => n === null) ? null : Math.max(...needed.map((n) => n ?? 0))
}

function cyclesFor(quantity: Quantity, { setup, measured }: Analysis, result: Result): number | null {
  const { rating, bench } = setup
  const limit = rating.limits[quantity]
  const { valuePa, n } = result[quantity]
  // Below two trips nothing is known of the scatter; the fewest that count are due anyway.
  if (limit === null || valuePa === null || n < 2) return fewestCycles
  const guards = guardsOf(rating.kind, quantity, bench)
  const { budget } = measured[quantity]
  for (let cycles = n + 1; cycles <= mostCycles; cycles++) {
    // Only the scatter shrinks with more cycles, by 1/√n, and is better known: JCGM 100:2008, 4.2.3 and G.4.1.
    const parts = budget.map(({ component, uPa, dof }) =>
      component === 'scatter'
        ? { u: uPa * Math.sqrt(n / cycles), dof: dof === null ? null : (dof * (cycles - 1)) / (n - 1) }
        : { u: uPa, dof },
    )
    const dof = effectiveDof(parts) ?? Number.POSITIVE_INFINITY
    const UPa = studentQuantile(0.975, dof) * Math.hypot(...parts.map((p) => p.u))
    if (outcome(valuePa, UPa, limit.lowPa, limit.highPa, guards.low, guards.high) !== 'undecided') return cycles
  }
  return null
}
