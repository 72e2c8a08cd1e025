// The first make into a finding: it lies above the later ones.
import { criteria } from '../../criteria.table.ts'
import { studentQuantile } from '../../statistics/student.ts'
import { outcomeOf } from '../outcome-of.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'
import { weakening } from './weakening.ts'

/** The first make after rest stands above the later ones: the appliance meets the first stroke at every start. */
export const stickyFirstStroke: Rule = (c) => {
  const first = c.cycles[0]?.makeValue
  const rest = c.cycles.filter((cycle) => cycle.used).flatMap((cycle) => cycle.makeValue?.valuePa ?? [])
  const n = rest.length + 1
  // Trips that fall from stroke to stroke begin high: that is the trend's finding.
  if (!first || rest.length < criteria.stickyCycles || weakening(c).length > 0) return []
  const mean = rest.reduce((a, b) => a + b, 0) / rest.length
  const s = c.measured.make.estimate.scatterPa ?? 0
  const limitPa = studentQuantile(criteria.stickyQuantile, n - 2) * s * Math.sqrt(1 + 1 / (n - 1))
  const excess = first.valuePa - mean
  if (!(excess > limitPa && excess > criteria.stickyShare * c.setup.rating.ratedPa)) return []
  const restS = c.setup.start.conditions?.restS ?? null
  const known = restS === null ? ' How long it had rested was not stated.' : ''
  return [
    sight(
      outcomeOf(c, 'first-make') === 'fail' ? 'fail' : 'undecided',
      c.cycles[0]?.make?.hiUs ?? c.run.tUs,
      `The first stroke made ${sayPressure(c, excess)} higher than the later ones.${known} Let it rest 8 h and repeat; if it returns reject the switch.`,
      { excessPa: excess, limitPa, restS, n },
    ),
  ]
}
