// Which knowledge of the rig's lag goes into the fit: the session's own kicks and rates, the rig's record, or only the intervals.
import type { Bench } from '../rig.ts'
import { fitSession, type LagPrior, type SessionFit } from './estimate.ts'
import type { TripInput } from './trip-moment.ts'

export type LagResult = {
  valueS: number
  uS: number
  source: 'estimated' | 'prior' | 'declared' | 'none'
  /** The rig's lag that the data contradicted and that was dropped; null where none was. */
  droppedS: number | null
}

type Intervals = { pressureIntervalS: number; contactIntervalS: number }

/** Trips with a visible kick that are needed before kicks date the session, and their least share of all trips. */
const fewestKicks = 3
const leastShare = 0.5
/** Beyond this many joint standard uncertainties the rig's lag and the session's contradict each other. */
const conflictSds = 3

/**
 * The fit of a session and the lag it used. The data speak first, alone; they are combined with the rig's lag by inverse
 * variance unless the two conflict. Where the data say less than the prior, the prior stands alone; without one, it is
 * N(0, ½(Tp + Tc)) from the median intervals of the two streams.
 */
export function estimateSession(
  trips: readonly TripInput[],
  known: Bench['lag'],
  intervals: Intervals,
  ratedPa: number,
): { fit: SessionFit | null; lag: LagResult } {
  const fallback = { valueS: 0, uS: (intervals.pressureIntervalS + intervals.contactIntervalS) / 2 || 0.5 }
  const prior: LagPrior = known ?? fallback
  const source = known === null ? 'none' : known.n === null ? 'declared' : 'prior'
  const kicks = trips.filter((t) => t.kick).length
  const useKick = kicks >= fewestKicks && kicks >= leastShare * trips.length
  const alone = fitSession(trips, useKick, null, ratedPa)
  if (alone === null) return { fit: null, lag: { ...prior, source, droppedS: null } }
  const telling = useKick || alone.lag.uS < prior.uS
  if (!telling) {
    const fit = fitSession(trips, useKick, prior, ratedPa)
    return { fit, lag: { valueS: prior.valueS, uS: prior.uS, source, droppedS: null } }
  }
  if (known === null) return { fit: alone, lag: { ...alone.lag, source: 'estimated', droppedS: null } }
  const conflict = Math.abs(alone.lag.valueS - known.valueS) > conflictSds * Math.hypot(alone.lag.uS, known.uS)
  if (conflict) return { fit: alone, lag: { ...alone.lag, source: 'estimated', droppedS: known.valueS } }
  const fit = fitSession(trips, useKick, known, ratedPa)
  return { fit, lag: { ...(fit?.lag ?? prior), source: 'estimated', droppedS: null } }
}
