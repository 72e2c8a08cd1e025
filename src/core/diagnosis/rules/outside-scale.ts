// Trips into a finding: they lie beyond the full scale up to which the accuracy of the manometer is stated.
import { judgedTrips } from '../counted-trips.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'

/** A display goes on beyond its scale; what it shows there nobody has stated. A certificate says itself how far it goes. */
export const outsideScale: Rule = (c) => {
  const { accuracy, calibration } = c.setup.rig
  if (accuracy === null || calibration !== null) return []
  const beyond = judgedTrips(c).filter(({ shownPa }) => Math.abs(shownPa) > accuracy.scalePa)
  const [first] = beyond
  if (!first) return []
  const { scalePa } = accuracy
  return [
    sight(
      'undecided',
      c.run.tUs,
      `A trip at ${sayPressure(c, first.valuePa)} lies beyond the full scale of the manometer, ${sayPressure(c, scalePa)}: its accuracy is stated no further. Use one with a wider range.`,
      { trips: beyond.length, pressurePa: first.valuePa, scalePa },
    ),
  ]
}
