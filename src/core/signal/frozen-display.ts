// A pressure track into whether its display stood still while the pressure went on.
import { criteria } from '../criteria.table.ts'
import type { Track } from '../model/samples.ts'
import { indexAt } from '../statistics/index-at.ts'
import { pressureAt } from './pressure-track.ts'

/** Time before and after a standstill in which the pace of the hand is read, µs. */
const paceUs = 1e6

/**
 * Whether the display froze between two times: no change where more than a few digits were due by the pace before, and
 * then a leap onward that is more than the pace after it makes in one reading. A held hand goes on from where it was held.
 * Within a standstill in which the `changes` of the contact lie (µs), the kick takes back some of the leap. `intervalS`: between
 * renewals of the display.
 */
export function isFrozen(
  track: Track,
  span: { startUs: number; endUs: number },
  changes: readonly { loUs: number; hiUs: number }[],
  digitPa: number,
  intervalS: number,
): boolean {
  const leastUs = Math.max(criteria.frozenUs, criteria.frozenIntervals * intervalS * 1e6)
  const leastPa = criteria.frozenOwedDigits * digitPa
  const { tUs, pressurePa } = track.of
  let still = indexAt(track, span.startUs)
  for (let i = still + 1; i < track.length && tUs[i]! <= span.endUs; i++) {
    const leapPa = pressurePa[i]! - pressurePa[still]!
    if (Math.abs(leapPa) < criteria.frozenDigits * digitPa) continue
    const from = still
    still = i
    const stillUs = tUs[i - 1]! - tUs[from]!
    if (stillUs < leastUs) continue
    const owedPa = ((pressurePa[from]! - pressureAt(track, tUs[from]! - paceUs)) / paceUs) * stillUs
    const paceAfter = (pressureAt(track, tUs[i]! + paceUs) - pressurePa[i]!) / paceUs
    const onward = Math.sign(owedPa)
    // A hand that turns back behind its peak makes no leap larger.
    const onwardPa = onward * leapPa - Math.max(0, onward * paceAfter) * (tUs[i]! - tUs[i - 1]!)
    const tripped = changes.some((e) => e.loUs >= tUs[from]! - leastUs && e.hiUs <= tUs[i]! + leastUs)
    const duePa = tripped ? leastPa : Math.max(leastPa, criteria.frozenOwedShare * Math.abs(owedPa))
    if (Math.abs(owedPa) > leastPa && onwardPa > duePa) return true
  }
  return false
}
