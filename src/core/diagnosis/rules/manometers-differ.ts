// The pressures at tee and switch end into a finding: they differ by more than both manometers claim.
import { apartAtAnyDelay } from '../../uncertainty/apart-at-any-delay.ts'
import { differTooMuch } from '../../uncertainty/line-drop.ts'
import { type Case, type Rule, sayPressure, sight } from '../rule.ts'

/**
 * The same way up and down: one of the two is wrong, or a leak at the switch end draws air through the hose. Where the second did not
 * see each trip what it did see counts all the same.
 */
export const manometersDiffer: Rule = (c) => {
  const found = differing(c)
  if (found === null) return []
  const { atPa, differPa, firstPa, secondPa } = found
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

function differing({ lineProof, switchEnd, track, zero, setup, streams }: Case) {
  if (lineProof?.drop.complete) return differTooMuch(lineProof.drop) ? lineProof.drop.still : null
  // Another unit explains a difference, and is told.
  if (switchEnd === null || streams.unitChangedUs !== null) return null
  return apartAtAnyDelay({ manometer: setup.rig, zero, track }, switchEnd, setup.rating.ratedPa)
}
