// A limit that only a hose lag keeps undecided into a finding: two faster strokes settle it.

import { criteria } from '../../criteria.table.ts'
import { type Rule, sight } from '../rule.ts'

/** The paces do not exclude a hose lag that would put a value outside its limit. */
export const lagNotProved: Rule = (c) => {
  const open = c.notProved
  if (open === null || open.leak) return []
  const { make, break: back } = c.lag.hose
  const openS = Math.max(...[make, back].flatMap(({ late, early }) => [late.lagS, early.lagS]))
  return [
    sight(
      'undecided',
      c.run.tUs,
      `The paces do not rule out that the switch feels the pressure up to ${openS.toFixed(1)} s late, and near a limit that counts. Draw two strokes ${criteria.briskRatio} times as fast, past make and break.`,
      { openS, quantity: open.quantity, allowLowPa: open.lowPa, allowHighPa: open.highPa },
    ),
  ]
}
