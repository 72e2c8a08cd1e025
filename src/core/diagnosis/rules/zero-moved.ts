// The zero before and after into a finding: it moved by too much.
import { criteria } from '../../criteria.table.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

export const zeroMoved: Rule = (c) => {
  const { before, after } = c.zero
  if (!before || !after) return []
  const moved = after.meanPa - before.meanPa
  const U = c.measured[c.setup.rating.ratedOn].estimate.UPa
  const { digitPa } = c.setup.rig
  const own = Math.hypot(
    Math.max(before.sdPa, digitPa / Math.sqrt(12)) / Math.sqrt(before.n),
    Math.max(after.sdPa, digitPa / Math.sqrt(12)) / Math.sqrt(after.n),
  )
  // Equal to one digit is not more than one digit; a mean of digits adds rounding of the machine to it.
  const oneDigitPa = digitPa * (1 + 1e-9)
  const limitPa = Math.max(oneDigitPa, criteria.zeroMovedShare * (U ?? 0), criteria.zeroMovedSds * own)
  if (Math.abs(moved) <= limitPa) return []
  const small = U !== null && Math.abs(moved) < U
  return [
    sight(
      small ? 'note' : 'void',
      after.tUs,
      `The zero moved by ${sayPressure(c, moved)} during the test; ${small ? 'it was corrected linearly' : 'that is too much to correct: let the manometer warm up, zero it, and start again'}.`,
      { movedPa: moved, limitPa, correctedBelowPa: U },
    ),
  ]
}
