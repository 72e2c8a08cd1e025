// Strokes into a finding: the contact changed more than once at a crossing.
import { chatters } from '../../strokes/cycles.ts'
import { type Rule, sight } from '../rule.ts'

export const chatter: Rule = (c) => {
  // Where a gap, a reversal or a discard voids the stroke first, it chattered all the same.
  const bad = c.cycles.filter((cycle) => cycle.why === 'chatter' || chatters(cycle, c.setup.rating.ratedPa, c.track))
  const first = bad[0]
  if (!first) return []
  return [
    sight(
      'undecided',
      first.edges[0]?.hiUs ?? first.span.startUs,
      `The contact changed more than once at a crossing in ${bad.length} of ${c.cycles.length} strokes. Repeat with more ballast; if it is still there reject the switch.`,
      { strokes: bad.length, of: c.cycles.length },
    ),
  ]
}
