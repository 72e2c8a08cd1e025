// The pressures at tee and switch end into a finding: they differ by more than both manometers claim.
import { differTooMuch } from '../../uncertainty/line-drop.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

/** The same way up and down: one of the two is wrong, or a leak at the switch end draws air through the hose. */
export const manometersDiffer: Rule = (c) => {
  const drop = c.lineProof?.drop
  if (!drop || !differTooMuch(drop)) return []
  const { atPa, differPa, firstPa, secondPa } = drop.still
  const less = differPa > 0 ? 'less' : 'more'
  return [
    sight(
      'undecided',
      c.run.tUs,
      `The second manometer shows ${sayPressure(c, Math.abs(differPa))} ${less} than the first at ${sayPressure(c, atPa)}: more than both claim. Put both on one tee: where they still differ, have them calibrated; where they agree, look for a leak at the switch.`,
      { atPa, differPa, firstClaimsPa: firstPa, secondClaimsPa: secondPa },
    ),
  ]
}
