// Edges while held into a finding: the contact opened.
import { criteria } from '../../criteria.table.ts'
import { pressureAt } from '../../signal/pressure-track.ts'
import { type Rule, sight } from '../rule.ts'

/** Openings while the pressure holds the switch well above its make. */
export const intermittent: Rule = (c) => {
  const makePa = c.measured.make.estimate.valuePa ?? c.setup.rating.ratedPa
  const openings = c.cycles.flatMap((cycle) => {
    const made = cycle.make
    if (!made || cycle.why === 'chatter') return []
    return cycle.edges.filter(
      (e) => !e.to && e.hiUs > made.hiUs && pressureAt(c.track, e.loUs) > criteria.heldShare * makePa,
    )
  })
  const first = openings[0]
  if (!first) return []
  return [
    sight(
      'fail',
      first.hiUs,
      `The contact opened ${openings.length === 1 ? 'once' : `${openings.length} times`} while held above its make. Check the clips; if they are sound reject the switch.`,
      { openings: openings.length, pressurePa: pressureAt(c.track, first.loUs) },
    ),
  ]
}
