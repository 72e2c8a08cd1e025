// Trips into a finding: the display comes to its end, at once or softly, where the switch makes, so the pressure may have been more.
import { criteria } from '../../criteria.table.ts'
import { pressureAt } from '../../signal/pressure-track.ts'
import { indexAt } from '../../statistics/index-at.ts'
import { type Case, type Rule, sayPressure, sight } from '../rule.ts'

/**
 * A hand draws on past the make: a display that goes no further for a while before it, and never beyond, has come to its end. One that
 * goes on by a small share of what the pressure does has a soft end, and never shows much more than it showed at a make.
 */
export const displayCeiling: Rule = (c) => {
  if (c.typed !== null || c.track.length === 0) return []
  const { digitPa } = c.setup.rig
  const mostPa = c.track.of.pressurePa.reduce((a, b) => Math.max(a, b), 0)
  const nearPa = criteria.ceilingDigits * digitPa + criteria.restNoises * c.zero.noisePa
  const there = c.cycles.filter((cycle) => restsAt(c, cycle, mostPa - nearPa))
  const made = c.cycles.flatMap((cycle) =>
    cycle.make ? [{ ...cycle, atPa: pressureAt(c.track, cycle.make.loUs) }] : [],
  )
  const pastPa = criteria.ceilingPastShare * c.setup.rating.ratedPa
  const stops = there.length >= criteria.ceilingStrokes
  // Of a part that is shown to make too high it only hides how much.
  const highPa = c.setup.rating.limits.make?.highPa ?? Number.POSITIVE_INFINITY
  const mayHide = made.some(({ atPa }) => atPa <= highPa)
  const isSoft = mayHide && made.length >= criteria.ceilingStrokes && made.every(({ atPa }) => mostPa - atPa < pastPa)
  const strokes = stops ? there : made
  const [first] = strokes
  if (!first || !(stops || isSoft)) return []
  const seen = stops
    ? `stopped at ${sayPressure(c, mostPa)}, the most that it shows, before the switch made`
    : `went no further than ${sayPressure(c, mostPa)}, hardly more than it showed as the switch made`
  return [
    sight(
      'undecided',
      first.span.endUs,
      `In ${strokes.length} strokes the display ${seen}: it may go no further, and the pressure may have been higher. Use a manometer with a wider range, or draw past the make.`,
      { strokes: strokes.length, of: c.cycles.length, pressurePa: mostPa },
    ),
  ]
}

/** Whether all that was shown for a while before the make, and until the display can have followed it, lies at or above `fromPa`. */
function restsAt({ track }: Case, { make }: Case['cycles'][number], fromPa: number): boolean {
  if (make === null) return false
  const [from, to] = [indexAt(track, make.loUs - criteria.ceilingS * 1e6), indexAt(track, make.loUs)]
  const { pressurePa } = track.of
  for (let i = from; i < to; i++) if (pressurePa[i]! < fromPa) return false
  return to - from >= criteria.ceilingReadings
}
