// A session into how late its bench may show a break.
import { criteria } from '../criteria.table.ts'
import type { Case } from './rule.ts'

/** Its lag and what the hose may hold back, no more than any bench has, s. */
export function sessionLagS({ lag }: Case): number {
  const { shown, late } = lag.hose.break
  const hoseS = (shown?.valueS ?? 0) + late.lagS
  return Math.min(criteria.mostLagS, Math.max(0, lag.valueS) + criteria.coverageFactor * lag.uS + hoseS)
}
