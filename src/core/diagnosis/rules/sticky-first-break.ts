// The first break into a finding: it lies far from the later ones.
import { criteria } from '../../criteria.table.ts'
import { farFromRest } from '../far-from-rest.ts'
import { outcomeOf } from '../outcome-of.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

export const stickyFirstBreak: Rule = (c) => {
  const far = farFromRest(c, 'break')
  if (far === null || Math.abs(far.excessPa) <= criteria.stickyShare * c.setup.rating.ratedPa) return []
  const side = far.excessPa > 0 ? 'higher' : 'lower'
  return [
    sight(
      outcomeOf(c, 'first-break') === 'fail' ? 'fail' : 'undecided',
      c.cycles[0]?.break?.hiUs ?? c.run.tUs,
      `The first stroke let go ${sayPressure(c, Math.abs(far.excessPa))} ${side} than the later ones. Let it rest 8 h and repeat; if it returns reject the switch.`,
      { ...far },
    ),
  ]
}
