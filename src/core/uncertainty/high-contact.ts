// Readings of the closed contact above the part's limit into what they decide: nothing, undecided, or a fail.
import { criteria } from '../criteria.table.ts'
import type { Outcome } from '../model/result.ts'
import type { RigSpec } from '../model/rig.ts'
import type { ContactResistance } from '../strokes/contact-resistance.ts'
import { type HighReadings, highReadings } from '../strokes/high-readings.ts'
import { instrumentUncertaintyOhm } from './contact.ts'

/** `found` is told; the outcome is undecided by what lies above the plain limit, and a fail only by what does so for certain. */
export type HighContact = { outcome: Exclude<Outcome, 'not-assessed'>; found: HighReadings }

/** Null where the part states no limit. What a meter shows while it may still look for its range fails no part. */
export function highContact(resistance: ContactResistance, rig: RigSpec, maxOhm: number | null): HighContact | null {
  if (maxOhm === null) return null
  const { closures, digitOhm } = resistance
  const found = highReadings(closures, maxOhm)
  if (found.high === 0 && !isMore(found, criteria.highShare)) return { outcome: 'pass', found }
  const widenOhm = criteria.coverageFactor * instrumentUncertaintyOhm(rig, maxOhm, digitOhm)
  const sure = highReadings(closures, maxOhm + widenOhm)
  const rejects =
    sure.high - sure.settling > criteria.poorShare * sure.closures ||
    (sure.longest?.forS ?? 0) > criteria.highFailS ||
    isMore(sure, criteria.highFailShare)
  return rejects ? { outcome: 'fail', found: sure } : { outcome: 'undecided', found }
}

/** One reading or two may be the meter. */
const isMore = ({ above, readings }: HighReadings, share: number): boolean =>
  above >= criteria.highReadings && above > share * readings
