// Make and break into a finding: it drops out far too late.
import { criteria } from '../../criteria.table.ts'
import { outcomeOf } from '../outcome-of.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

/** Drops out far too late: it would hold on a draft that is nearly gone. */
export const breaksLow: Rule = (c) => {
  const { valuePa: back, UPa } = c.measured.break.estimate
  const make = c.measured.make.estimate.valuePa
  const limit = c.setup.rating.limits.break
  if (back === null || make === null) return []
  const belowLimit = outcomeOf(c, 'break') === 'fail' && limit?.lowPa != null && back < limit.lowPa
  // What hose and leak may hide makes the differential look larger than it is.
  const share = (make - back - c.measured.differential.allowance.lowPa) / make
  if (!belowLimit && share <= criteria.lateBreakShare) return []
  return [
    sight(
      'fail',
      c.cycles.find((cycle) => cycle.used)?.break?.hiUs ?? c.run.tUs,
      `It releases only at ${sayPressure(c, back, UPa)}: it would not drop out on a weak draft. Reject it for proving duty.`,
      { breakPa: back, lowPa: limit?.lowPa ?? null, differentialOverMake: share },
    ),
  ]
}
