// Edges while held into a finding: the contact opened.
import { criteria } from '../../criteria.table.ts'
import { pressureAt } from '../../signal/pressure-track.ts'
import { indexAt } from '../../statistics/index-at.ts'
import type { Edge } from '../../strokes/edges.ts'
import { makesAgain } from '../makes-again.ts'
import { type Case, type Rule, type Sight, sight } from '../rule.ts'
import { displayLagS } from '../session-lag.ts'

/**
 * Openings while the pressure holds the switch well above its make, and goes on to: a display shows a vent late, by up to the
 * longest delay that it may have. An opening after which the contact closes again is none of a vent's.
 */
export const intermittent: Rule = (c) => {
  const { make, break: back } = c.measured
  const makePa = make.estimate.valuePa ?? c.setup.rating.ratedPa
  const certain = openingsAbove(c, criteria.heldShare * makePa, criteria.mostDisplayS)
  // Above its make, and above what it may let go at, an opening is not where it must be either.
  const highPa = c.setup.rating.limits.break?.highPa
  const doubtful = openingsAbove(
    c,
    Math.max(makePa, highPa == null ? 0 : highPa + (back.estimate.UPa ?? 0)),
    displayLagS(c),
  )
  const openings = certain.length > 0 || c.streams.unitChangedUs !== null ? certain : doubtful
  const first = openings[0]
  if (!first) return changedAgain(c)
  // One reading, once in a session, may be a line that lost some of its digits.
  const isCertain = certain.reduce((sum, { readings }) => sum + readings, 0) > 1
  return [
    sight(
      isCertain ? 'fail' : 'undecided',
      first.hiUs,
      `The contact opened ${openings.length === 1 ? 'once' : `${openings.length} times`} while held above its make. Check the clips; if they are sound reject the switch.`,
      { openings: openings.length, pressurePa: pressureAt(c.track, first.loUs) },
    ),
  ]
}

/** A switch that has let go makes again once the pressure has risen by a good deal: what closes without that closes by itself. */
function changedAgain(c: Case): Sight[] {
  if (c.streams.unitChangedUs !== null) return []
  const again = c.cycles.flatMap((cycle) =>
    cycle.why === 'chatter' ? [] : makesAgain(c, cycle).flatMap(({ make, pulled }) => (pulled ? [] : [make])),
  )
  const first = again[0]
  if (!first) return []
  return [
    sight(
      'undecided',
      first.hiUs,
      `The switch let go and made again though the pressure did not rise${again.length === 1 ? '' : `, ${again.length} times in all`}. Check the clips, and repeat the test; if it happens again reject the switch.`,
      { openings: again.length, pressurePa: pressureAt(c.track, first.loUs) },
    ),
  ]
}

/** The openings in the strokes that did not chatter, while all pressures about them lie above one. */
function openingsAbove(c: Case, abovePa: number, displayS: number): Edge[] {
  return c.cycles.flatMap((cycle) => {
    const made = cycle.make
    if (!made || cycle.why === 'chatter') return []
    return cycle.edges.filter((e, i) => {
      if (e.to || e.hiUs <= made.hiUs) return false
      const again = cycle.edges[i + 1]?.hiUs ?? Number.POSITIVE_INFINITY
      return isHeld(c, e.loUs, Math.min(again, e.hiUs + displayS * 1e6), abovePa)
    })
  })
}

/** Whether all readings of a stretch lie above a pressure. */
function isHeld({ track }: Case, fromUs: number, toUs: number, abovePa: number): boolean {
  if (pressureAt(track, fromUs) <= abovePa || pressureAt(track, toUs) <= abovePa) return false
  for (let i = indexAt(track, fromUs); i < track.length && track.of.tUs[i]! <= toUs; i++)
    if (track.of.pressurePa[i]! <= abovePa) return false
  return true
}
