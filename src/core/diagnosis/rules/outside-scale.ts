// Trips into a finding: they lie beyond the full scale up to which the accuracy of the manometer is stated.

import { unstatedAt } from '../../uncertainty/unstated-at.ts'
import { judgedTrips } from '../counted-trips.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

/** A display goes on beyond its scale; what it shows there nobody has stated. A certificate says itself how far it goes. */
export const outsideScale: Rule = (c) => {
  const { rig } = c.setup
  const beyond = judgedTrips(c).filter(({ shownPa }) => unstatedAt(rig, [shownPa]) === 'outside-scale')
  const [first] = beyond
  if (!first || !rig.accuracy) return []
  const { scalePa } = rig.accuracy
  return [
    sight(
      'undecided',
      c.run.tUs,
      `A trip at ${sayPressure(c, first.valuePa)} lies beyond the full scale of the manometer, ${sayPressure(c, scalePa)}: its accuracy is stated no further. Use one with a wider range.`,
      { trips: beyond.length, pressurePa: first.valuePa, scalePa },
    ),
  ]
}
