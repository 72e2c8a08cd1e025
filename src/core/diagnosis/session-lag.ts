// A session into how late its bench may show a break, and how late its display.
import { criteria } from '../criteria.table.ts'
import { mostDelayS } from '../trips/response.ts'
import type { Case } from './rule.ts'

/**
 * Its lag and what its hose is seen to hold back, no more than any bench has, s. A hose that nothing excludes is no excuse: a part
 * that lets go so late behind one is as doubtful.
 */
export function sessionLagS({ lag }: Case): number {
  const { shown } = lag.hose.break
  const hoseS = shown === null ? 0 : shown.valueS + criteria.coverageFactor * shown.uS
  return Math.min(criteria.mostLagS, Math.max(0, lag.valueS) + criteria.coverageFactor * lag.uS + hoseS)
}

/** How late the display may be by what its vents leave open, s. */
export const displayLagS = ({ streams }: Case): number => Math.min(criteria.mostDisplayS, mostDelayS(streams.answers))
