// A limit that only a lag of hose or display keeps undecided into a finding: two faster strokes settle it.

import { criteria } from '../../criteria.table.ts'
import { type Rule, sight } from '../rule.ts'

/** The paces do not exclude a lag of hose or display that would put a value outside its limit. */
export const lagNotProved: Rule = (c) => {
  const open = c.notProved
  if (open === null || open.leak) return []
  const { make, break: back } = c.lag.hose
  const most = (side: 'late' | 'early') => Math.max(make[side].lagS, back[side].lagS)
  const [lateS, earlyS] = [most('late'), most('early')]
  const what =
    lateS >= earlyS || c.typed !== null
      ? `the switch feels the pressure up to ${lateS.toFixed(1)} s late`
      : `the manometer shows the pressure up to ${earlyS.toFixed(1)} s late`
  return [
    sight(
      'undecided',
      c.run.tUs,
      `The paces do not rule out that ${what}, and near a limit that counts. Draw two strokes ${criteria.briskRatio} times as fast, past make and break.`,
      {
        openS: Math.max(lateS, earlyS),
        quantity: open.quantity,
        allowLowPa: open.lowPa,
        allowHighPa: open.highPa,
      },
    ),
  ]
}
