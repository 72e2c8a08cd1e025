// The pressures at the tee and of the second manometer into how long a pinched hose kept the two apart.
import { criteria } from '../criteria.table.ts'
import type { Columns } from '../model/columns.ts'
import { pressureAt } from './pressure-track.ts'

type Pressures = Columns<'tUs' | 'pressurePa'>

/**
 * The longest stretch in which the tee was drawn and the second manometer stayed at rest, and the one that lasts
 * to its newest reading, s. Only one behind the pinched place rests then: at the tee it would follow.
 */
export function pinchedS(tee: Pressures, end: Pressures, ratedPa: number): { longestS: number; nowS: number } {
  const { tUs, pressurePa } = end.of
  const lastUs = tee.at(-1)?.tUs ?? 0
  let [longestS, nowS] = [0, 0]
  let since: { tUs: number; pa: number } | null = null
  for (let i = 0; i < end.length && tUs[i]! <= lastUs; i++) {
    const pa = pressurePa[i]!
    const isApart =
      Math.abs(pa) < criteria.pinchNearShare * ratedPa && pressureAt(tee, tUs[i]!) > criteria.restShare * ratedPa
    if (!isApart || (since && Math.abs(pa - since.pa) > criteria.pinchRestShare * ratedPa)) since = null
    else since ??= { tUs: tUs[i]!, pa }
    nowS = since === null ? 0 : (tUs[i]! - since.tUs) / 1e6
    longestS = Math.max(longestS, nowS)
  }
  return { longestS, nowS }
}
