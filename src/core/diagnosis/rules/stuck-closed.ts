// A vented switch into a finding: its NO stays closed.

import { criteria } from '../../criteria.table.ts'
import { pressureAt } from '../../signal/pressure-track.ts'
import { invertedStrokes } from '../inverted-strokes.ts'
import { type Rule, sight } from '../rule.ts'
import { stuckSpell } from '../stuck-spell.ts'

/** NO stays closed with no pressure on the switch. */
export const stuckClosed: Rule = (c) => {
  const stuck = stuckSpell(c)
  // A pair seen the wrong way round is closed at rest too, and opens: that is another finding. Only a stroke tells them apart.
  if (
    stuck === null ||
    c.cycles.length === 0 ||
    invertedStrokes(c) !== null ||
    c.edges.some(
      (e) =>
        !e.to &&
        pressureAt(c.track, e.hiUs) > criteria.restShare * c.setup.rating.ratedPa &&
        !c.cycles.some((cy) => cy.make),
    )
  )
    return []
  return [
    sight(
      'fail',
      stuck.sinceUs,
      'NO stays closed with the switch vented. Reject it, disable its tabs and quarantine it: in service it would let a fire burn without draft.',
      { forS: stuck.forUs / 1e6 },
    ),
  ]
}
