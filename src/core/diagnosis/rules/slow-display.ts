// Vents into a finding: the display may follow so slowly that no trip is dated by it.
import { criteria } from '../../criteria.table.ts'
import { type Rule, sight } from '../rule.ts'

/** Later than any display that this method reckons with: what it shows at a trip is not what the switch felt. */
export const slowDisplay: Rule = (c) => {
  const lateS = c.bound.dampingS
  // Stops of the hand may only clear it: whether the hand stopped at once nobody knows, of a vent it is asked.
  if (c.typed !== null || !Number.isFinite(c.bound.ventedS) || lateS <= criteria.mostDisplayS) return []
  return [
    sight(
      'undecided',
      c.run.tUs,
      `After a vent the display still falls for so long that it may be ${lateS.toFixed(1)} s late, and no more than ${criteria.mostDisplayS} s can be allowed for. Set its damping or averaging lower, or take another manometer; vent at once.`,
      { lateS, mostS: criteria.mostDisplayS },
    ),
  ]
}
