// What the instruments of this rig can follow: from the intervals of their readings and the lag that is still open.

import type { Assessment } from '../assess.ts'
import { criteria } from '../criteria.table.ts'
import type { PortState } from '../intake/receive.ts'
import type { Run } from '../intake/run.ts'
import type { Setup } from '../model/setup.ts'
import { rampRatePaPerS } from '../plan/ramp-rate.ts'
import { median } from '../statistics/mean.ts'

/** What a rate costs: the contact is looked at every `contactS`, and the lag is known to `lagUs`. s throughout. */
export type Instruments = { pressureS: number; contactS: number; lagUs: number }

/** Intervals of the two streams as the last arrivals show them, and the lag as the session or the rig knows it. */
export function instrumentsOf(run: Run, { rig }: Setup, assessment: Assessment): Instruments {
  const port = (...names: PortState['name'][]) => run.ports.find((p) => names.includes(p.name))
  const pressureS = intervalS(port('manometer', 'bridge'))
  const contactS = intervalS(port('meter', 'bridge'))
  const known = rig.lag?.uS ?? (pressureS + contactS) / 2
  const learnt = assessment && assessment.analysis.fit !== null ? assessment.analysis.lag.uS : known
  return { pressureS, contactS, lagUs: Math.min(learnt, known) }
}

function intervalS(port: PortState | undefined): number {
  const at = port?.recentUs ?? []
  const steps = at.slice(1).map((tUs, i) => (tUs - at[i]!) / 1e6)
  return median(steps.filter((s) => s > criteria.burstS)) ?? criteria.intervalS
}

/** Standard error of one trip at a rate, Pa: the interval's rectangle (JCGM 100:2008, 4.3.7) and the open lag. */
export function errorAtPa(ratePaPerS: number, { contactS, lagUs }: Instruments): number {
  return ratePaPerS * Math.hypot(contactS / Math.sqrt(12), lagUs)
}

/** Rates in Pa/s: below `lowPaPerS` is too slow, above `mostPaPerS` faster than the instruments follow, `aimPaPerS` best. */
export type RateBand = { lowPaPerS: number; aimPaPerS: number; mostPaPerS: number }

/**
 * The band near the trip, and away from it. `brisk`: of a faster stroke, over the slow pace that this session drew; a lag
 * that is open is not a reason to draw it more slowly, since it is there to tell the lag. The slow band leaves room for it.
 */
export function rateBand(
  { rating }: Setup,
  instruments: Instruments,
  nearTrip: boolean,
  brisk: { slowPaPerS: number | null } | null = null,
): RateBand {
  const { ratedPa, halfTolerancePa } = rating
  const { briskRatio, tooFastShare } = criteria
  const sampledPaPerS = (tooFastShare * halfTolerancePa) / errorAtPa(1, { ...instruments, lagUs: 0 })
  const followedPaPerS = (tooFastShare * halfTolerancePa) / errorAtPa(1, instruments)
  const mostPaPerS = Math.min(followedPaPerS, sampledPaPerS / briskRatio)
  const lowPaPerS = Math.min(criteria.floorShare * ratedPa, criteria.floorMostShare * mostPaPerS)
  const quickPaPerS = criteria.quickShare * ratedPa
  if (!nearTrip) return { lowPaPerS, aimPaPerS: criteria.aimShare * quickPaPerS, mostPaPerS: quickPaPerS }
  const aim = Math.min(rampRatePaPerS(rating, instruments.contactS), criteria.aimShare * mostPaPerS)
  const slow = { lowPaPerS, aimPaPerS: Math.max(aim, lowPaPerS), mostPaPerS }
  if (brisk === null) return slow
  const aimPaPerS = Math.min(briskRatio * (brisk.slowPaPerS ?? slow.aimPaPerS), sampledPaPerS)
  return { lowPaPerS: criteria.briskFromShare * aimPaPerS, aimPaPerS, mostPaPerS: sampledPaPerS }
}
