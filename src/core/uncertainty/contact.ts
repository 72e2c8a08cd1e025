// The resistance of the contact and what the rig states of its meter into the value with its uncertainty.
import { criteria } from '../criteria.table.ts'
import type { RigSpec } from '../model/rig.ts'
import { sampleSd } from '../statistics/mean.ts'
import { studentQuantile } from '../statistics/student.ts'
import { effectiveDof } from '../statistics/welch-satterthwaite.ts'
import type { ContactResistance } from '../strokes/contact-resistance.ts'

/** The contact as a measured quantity, ohm, leads off; u and U are null below two closures, as for a single trip. */
export type MeasuredContact = {
  medianOhm: number | null
  uOhm: number | null
  /** Two-sided 95 %. */
  UOhm: number | null
  dof: number | null
  /** Meter, leads and digit: what all closures share. */
  instrumentUOhm: number
  /** Median of each closure, in order. */
  closuresOhm: readonly number[]
}

const root3 = Math.sqrt(3)

/** JCGM 100:2008, 4.3.7 for a rectangle, 4.3.3 for a stated multiple. What is not stated is that of a plain hand-held meter. */
export function meterUncertaintyOhm({ meterAccuracy }: Pick<RigSpec, 'meterAccuracy'>, shownOhm: number): number {
  const ofReading = (meterAccuracy?.ofReading ?? criteria.meterShare) * Math.abs(shownOhm)
  const ohm = meterAccuracy?.ohm ?? criteria.meterOhm
  return meterAccuracy?.distribution === 'normal'
    ? Math.hypot(ofReading, ohm) / meterAccuracy.coverage
    : (ofReading + ohm) / root3
}

/** Meter, clips and digit at a resistance, leads off: what all readings share, ohm. */
export function instrumentUncertaintyOhm(rig: RigSpec, ohm: number, digitOhm: number | null): number {
  return Math.hypot(
    meterUncertaintyOhm(rig, ohm + rig.leadsOhm),
    criteria.clipsOhm / root3,
    (digitOhm ?? 0) / 2 / root3,
  )
}

/** The median with the share of the meter, the clips, the digit and the scatter of the closures. */
export function measureContact(resistance: ContactResistance, rig: RigSpec): MeasuredContact {
  const { medianOhm, closuresOhm, digitOhm } = resistance
  const instrumentUOhm = instrumentUncertaintyOhm(rig, medianOhm ?? 0, digitOhm)
  const base = { medianOhm, instrumentUOhm, closuresOhm }
  const sdOhm = sampleSd(closuresOhm)
  if (medianOhm === null || sdOhm === null) return { ...base, uOhm: null, UOhm: null, dof: null }
  const n = closuresOhm.length
  const scatterUOhm = sdOhm / Math.sqrt(n)
  const uOhm = Math.hypot(instrumentUOhm, scatterUOhm)
  const dof = effectiveDof([
    { u: instrumentUOhm, dof: null },
    { u: scatterUOhm, dof: n - 1 },
  ])
  return {
    ...base,
    uOhm,
    UOhm: studentQuantile(criteria.coverageQuantile, dof ?? Number.POSITIVE_INFINITY) * uOhm,
    dof,
  }
}
