// The contact of a vented switch into a stay in the actuated state that is too long.
import { criteria } from '../criteria.table.ts'
import { isActuated } from '../model/pair.ts'
import { stateOf } from '../model/samples.ts'
import { pressureAt } from '../signal/pressure-track.ts'
import { isWatched } from './is-watched.ts'
import type { Case } from './rule.ts'

/** The first stay in the actuated state while vented that is too long, µs, and where it began; null where there is none. */
export function stuckSpell(c: Case): { sinceUs: number; forUs: number } | null {
  const { rating, rig } = c.setup
  if (rig.pair === 'com-nc') return null
  const vented = Math.max(criteria.stuckShare * rating.ratedPa, criteria.stuckNoises * c.zero.noisePa)
  let sinceUs: number | null = null
  const { of, length } = c.contact
  for (let i = 0; i < length; i++) {
    const tUs = of.tUs[i]!
    const isMade = isActuated(stateOf(of.state[i]), rig.pair) === true
    const stuck = isMade && isWatched(c.track, tUs) && Math.abs(pressureAt(c.track, tUs)) < vented
    if (!stuck) sinceUs = null
    else if (sinceUs === null) sinceUs = tUs
    else if (tUs - sinceUs > criteria.stuckUs) return { sinceUs, forUs: tUs - sinceUs }
  }
  return null
}
