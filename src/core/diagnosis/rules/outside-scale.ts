// Trips into a finding: they lie beyond the full scale up to which the accuracy of the manometer is stated.
import { type Rule, sayPressure, sight } from '../rule.ts'

/** A display goes on beyond its scale; what it shows there nobody has stated. A certificate says itself how far it goes. */
export const outsideScale: Rule = (c) => {
  const { accuracy, calibration } = c.setup.rig
  if (accuracy === null || calibration !== null) return []
  const zeroPa = (c.zero.before ?? c.zero.after)?.meanPa ?? 0
  const judged = c.cycles.filter((cycle) => cycle.used || cycle === c.cycles[0])
  const trips = judged.flatMap(({ makeValue, breakValue }) => [makeValue ?? [], breakValue ?? []].flat())
  const beyond = trips.filter(({ valuePa }) => Math.abs(valuePa + zeroPa) > accuracy.scalePa)
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
