// The closures of the contact into a finding: their resistance is too high.
import { criteria } from '../../criteria.table.ts'
import { median } from '../../statistics/mean.ts'
import { figuresText } from '../../text/figures-text.ts'
import { type Rule, sight } from '../rule.ts'

export const highContactResistance: Rule = (c) => {
  const { closuresOhm } = c.resistance
  const { maxOhm } = c.setup.rating
  const limit = maxOhm ?? criteria.doubtfulOhm
  const typical = median(closuresOhm)
  if (typical === null || closuresOhm.length < criteria.closures || typical <= limit) return []
  return [
    sight(
      maxOhm === null ? 'note' : 'fail',
      c.run.tUs,
      `The closed contact measures ${figuresText(typical, 2)} Ω, more than ${limit} Ω. Null the leads and repeat; if it stays reject the switch for signal circuits.`,
      { medianOhm: typical, limitOhm: limit, closures: closuresOhm.length },
    ),
  ]
}
