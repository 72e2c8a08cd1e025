// The first make into a finding: it lies above the later ones.
import { criteria } from '../../criteria.table.ts'
import { farFromRest } from '../far-from-rest.ts'
import { outcomeOf } from '../outcome-of.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

/** The appliance meets the first stroke at every start. */
export const stickyFirstStroke: Rule = (c) => {
  const far = farFromRest(c, 'make')
  if (far === null || far.excessPa <= criteria.stickyShare * c.setup.rating.ratedPa) return []
  const restS = c.setup.start.conditions?.restS ?? null
  const known = restS === null ? ' How long it rested was not stated.' : ''
  return [
    sight(
      outcomeOf(c, 'first-make') === 'fail' ? 'fail' : 'undecided',
      c.cycles[0]?.make?.hiUs ?? c.run.tUs,
      `The first stroke made ${sayPressure(c, far.excessPa)} higher than the later ones.${known} Let it rest 8 h and repeat; if it returns reject the switch.`,
      { excessPa: far.excessPa, limitPa: far.limitPa, restS, n: far.n },
    ),
  ]
}
