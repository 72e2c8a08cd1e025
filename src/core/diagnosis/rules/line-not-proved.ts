// A limit that only a leak keeps undecided into a finding: a stroke held at its peak settles it.

import { type Rule, sight } from '../rule.ts'

/** No rest at a peak excludes a leak that would put a value outside its limit. */
export const lineNotProved: Rule = (c) => {
  const open = c.notProved
  if (open === null || !open.leak) return []
  return [
    sight(
      'undecided',
      c.run.tUs,
      'No rest at a peak rules out a leak, and near a limit that counts. Hold one stroke still at its peak for 10 s.',
      { quantity: open.quantity, allowLowPa: open.lowPa, allowHighPa: open.highPa },
    ),
  ]
}
