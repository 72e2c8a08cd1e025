// The contact of a vented switch into a stay in the actuated state that is too long.
import { criteria } from '../criteria.table.ts'
import { isActuated } from '../model/pair.ts'
import { pressureAt } from '../signal/pressure-track.ts'
import { indexAt } from '../statistics/index-at.ts'
import type { Case } from './rule.ts'

/** The first stay in the actuated state while vented that is too long, µs, and where it began; null where there is none. */
export function stuckSpell(c: Case): { sinceUs: number; forUs: number } | null {
  const { rating, rig } = c.setup
  if (rig.pair === 'com-nc') return null
  const vented = Math.max(criteria.stuckShare * rating.ratedPa, criteria.stuckNoises * c.zero.noisePa)
  let sinceUs: number | null = null
  for (const { tUs, state } of c.contact) {
    const stuck =
      isActuated(state, rig.pair) === true && isWatched(c, tUs) && Math.abs(pressureAt(c.track, tUs)) < vented
    if (!stuck) sinceUs = null
    else if (sinceUs === null) sinceUs = tUs
    else if (tUs - sinceUs > criteria.stuckUs) return { sinceUs, forUs: tUs - sinceUs }
  }
  return null
}

/** Whether the manometer was heard near `tUs`: while it is silent nobody knows that the switch is vented. */
function isWatched(c: Case, tUs: number): boolean {
  const i = indexAt(c.track, tUs)
  return c.track.slice(Math.max(0, i - 1), i + 1).some((s) => Math.abs(s.tUs - tUs) < criteria.stuckWatchedUs)
}
