// The newest pressure readings into how long the bench has stood still, vented or at a held pressure.
import { criteria } from '../criteria.table.ts'
import type { Run } from '../intake/run.ts'
import type { Setup } from '../model/setup.ts'

/** Since when the readings have lain within a narrow band near zero, µs; null where the newest is not vented or there is none. */
export function ventedSinceUs(run: Run, { rating, rig }: Setup): number | null {
  const { silenceUs, stillUs } = criteria
  const { items, length } = run.pressure
  const newest = items[length - 1]
  if (!newest || length === 0 || run.tUs - newest.tUs > silenceUs) return null
  const widthPa = Math.max(criteria.stillDigits * rig.digitPa, criteria.stillShare * rating.ratedPa)
  const restPa = criteria.restShare * rating.ratedPa
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
  let sinceUs: number | null = null
  for (let i = length - 1; i >= 0; i--) {
    const { tUs, rawPa, overRange } = items[i]!
    least = Math.min(least, rawPa)
    most = Math.max(most, rawPa)
    const gap = sinceUs === null ? 0 : sinceUs - tUs
    if (
      overRange ||
      Math.abs(rawPa) > restPa ||
      most - least > widthPa ||
      gap > silenceUs ||
      newest.tUs - tUs > stillUs
    )
      break
    sinceUs = tUs
  }
  return sinceUs
}

/** The longest unbroken stay within `fromPa` to `toPa` (zero subtracted) after `sinceUs`, s, and the one that lasts still. */
export function heldS(run: Run, sinceUs: number, fromPa: number, toPa: number): { longestS: number; nowS: number } {
  const { items, length } = run.pressure
  let [longestS, nowS] = [0, 0]
  let [fromUs, beforeUs] = [Number.NaN, Number.NaN]
  let first = length
  while (first > 0 && items[first - 1]!.tUs >= sinceUs) first--
  for (let i = first; i < length; i++) {
    const { tUs, rawPa, overRange } = items[i]!
    const pressurePa = rawPa - run.tracker.zeroPa
    const inside = !overRange && pressurePa >= fromPa && pressurePa <= toPa
    const goesOn = inside && tUs - beforeUs <= criteria.silenceUs
    fromUs = goesOn ? fromUs : inside ? tUs : Number.NaN
    beforeUs = inside ? tUs : Number.NaN
    nowS = inside ? (tUs - fromUs) / 1e6 : 0
    longestS = Math.max(longestS, nowS)
  }
  return { longestS, nowS }
}
