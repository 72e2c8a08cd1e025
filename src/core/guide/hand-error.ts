// The hand's pace and tremor into pascal against the margin that the limits leave.

import type { Assessment } from '../assess.ts'
import { fewestCycles } from '../decision/verdict.ts'
import type { Run } from '../intake/run.ts'
import type { Setup } from '../model/setup.ts'
import { planBench } from '../plan/bench-plan.ts'
import { expectTest, usualScatterShare } from '../plan/expected-test.ts'
import { tremorPa } from '../signal/rate-now.ts'
import type { Guide } from './guidance.ts'
import { errorAtPa, type Instruments, type RateBand } from './instruments.ts'

/** An error is small beside a margin of which it takes no more than this: common practice, no source. */
const fineShare = 0.5
/** Two-sided 95 % of a normal distribution. */
const k = 2
/** Of the half tolerance: what the plunger's jerks may take. Shop rule, no standard. */
const jerkShare = 0.2
/** Readings that show a tremor, s. */
const tremorWindowS = 2

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
  const errorPa = k * errorAtPa(Math.max(ratePaPerS, band.lowPaPerS), instruments)
  const limit = rating.limits[quantity]
  if (limit === null) return { errorPa, marginPa: null, exceeds: null }
  const found = assessment?.result[quantity]
  const expected = expectTest(rating, rig, {
    cycles: fewestCycles,
    scatterPa: usualScatterShare * rating.ratedPa,
    pressureIntervalS: instruments.pressureS,
    contactIntervalS: instruments.contactS,
  })[quantity].estimate
  const valuePa = found?.valuePa ?? expected.valuePa ?? rating.ratedPa
  const UPa = found?.UPa ?? expected.UPa ?? 0
  const low = limit.lowPa === null ? Number.POSITIVE_INFINITY : valuePa - limit.lowPa
  const high = limit.highPa === null ? Number.POSITIVE_INFINITY : limit.highPa - valuePa
  const marginPa = Math.max(0, Math.min(low, high) - UPa)
  const exceeds = errorPa > fineShare * marginPa ? 'margin' : ratePaPerS > band.mostPaPerS ? 'instruments' : null
  return { errorPa, marginPa, exceeds }
}

/** The tremor near a trip where it takes too much of the tolerance, with the ballast that would quieten it; else null. */
export function tremorOf(
  run: Run,
  { rating }: Setup,
  assessment: Assessment,
  { contactS }: Instruments,
): Guide['ballast'] {
  const sdPa = tremorPa(run.pressure, tremorWindowS)
  if (sdPa === null) return null
  const noisePa = assessment?.analysis.zero.noisePa ?? 0
  const jerkPa = k * Math.sqrt(Math.max(0, sdPa * sdPa - noisePa * noisePa))
  if (jerkPa <= jerkShare * rating.halfTolerancePa) return null
  return { tremorPa: jerkPa, litres: planBench(rating, contactS).chosen?.litres ?? null }
}
