// The hand's pace and tremor into pascal against the margin that the limits leave.

import type { Assessment } from '../assess.ts'
import { criteria } from '../criteria.table.ts'
import type { Run } from '../intake/run.ts'
import type { Setup } from '../model/setup.ts'
import { planBench } from '../plan/bench-plan.ts'
import { expectTest } from '../plan/expected-test.ts'
import { usualPlan } from '../plan/test-steps.table.ts'
import { tremorPa } from '../signal/rate-now.ts'
import type { Guide } from './guidance.ts'
import { errorAtPa, type Instruments, type RateBand } from './instruments.ts'

/**
 * What the pace adds to one trip (95 %), and how much the limits leave beside the uncertainty: from the value that this
 * session found, else from the rated part. `marginPa` null where the quantity has no limit.
 */
export function handError(
  { rating, rig }: Setup,
  assessment: Assessment,
  quantity: 'make' | 'break',
  ratePaPerS: number,
  band: RateBand,
  instruments: Instruments,
): NonNullable<Guide['error']> {
  // Standing still the hand makes no error; told is what it makes once it goes on at a good pace.
  const errorPa = criteria.coverageFactor * errorAtPa(Math.max(ratePaPerS, band.lowPaPerS), instruments)
  const limit = rating.limits[quantity]
  if (limit === null) return { errorPa, marginPa: null, exceeds: null }
  const found = assessment?.result[quantity]
  const expected = expectTest(rating, rig, {
    cycles: usualPlan.cycles,
    scatterPa: criteria.scatterShare * rating.ratedPa,
    pressureIntervalS: instruments.pressureS,
    contactIntervalS: instruments.contactS,
  })[quantity].estimate
  const valuePa = found?.valuePa ?? expected.valuePa ?? rating.ratedPa
  const UPa = found?.UPa ?? expected.UPa ?? 0
  const low = limit.lowPa === null ? Number.POSITIVE_INFINITY : valuePa - limit.lowPa
  const high = limit.highPa === null ? Number.POSITIVE_INFINITY : limit.highPa - valuePa
  const marginPa = Math.max(0, Math.min(low, high) - UPa)
  const exceeds =
    errorPa > criteria.fineShare * marginPa ? 'margin' : ratePaPerS > band.mostPaPerS ? 'instruments' : null
  return { errorPa, marginPa, exceeds }
}

/** The tremor near a trip where it takes too much of the tolerance, with the ballast that would quieten it; else null. */
export function tremorOf(
  run: Run,
  { rating }: Setup,
  assessment: Assessment,
  { contactS }: Instruments,
): Guide['ballast'] {
  const sdPa = tremorPa(run.pressure, criteria.tremorS)
  if (sdPa === null) return null
  const noisePa = assessment?.analysis.zero.noisePa ?? 0
  const jerkPa = criteria.coverageFactor * Math.sqrt(Math.max(0, sdPa * sdPa - noisePa * noisePa))
  if (jerkPa <= criteria.jerkShare * rating.halfTolerancePa) return null
  return { tremorPa: jerkPa, litres: planBench(rating, contactS).chosen?.litres ?? null }
}
