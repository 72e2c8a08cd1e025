// The zero before and after into a finding: it moved by too much.
import { criteria } from '../../criteria.table.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

/** Between the first zero and the last, and from one rest to the next. */
export const zeroMoved: Rule = (c) => [...movedInAll(c), ...jumped(c)].slice(0, 1)

/** A jump voids the strokes about it, and no others. */
const jumped: Rule = (c) => {
  const jumps = c.zero.vents?.jumps ?? []
  const largest = jumps.toSorted((a, b) => Math.abs(b.movedPa) - Math.abs(a.movedPa))[0]
  if (!largest) return []
  const strokes = c.cycles.filter(({ span }) => jumps.some((j) => j.fromUs < span.endUs && j.toUs > span.startUs))
  const where = strokes.map(({ stroke }) => stroke).join(', ')
  const text = `From one rest to the next the zero moved by ${sayPressure(c, Math.abs(largest.movedPa))}; stroke ${where} does not count. Keep manometer and hose still and warm, and vent between the strokes.`
  return [sight('note', largest.fromUs, text, { movedPa: largest.movedPa, strokes: strokes.length })]
}

const movedInAll: Rule = (c) => {
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
