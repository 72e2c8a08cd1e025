// The session's lag into a finding: it contradicts what the rig's record says.
import { type Rule, sight } from '../rule.ts'

/** The session contradicts what the rig's record says of its lag. */
export const lagConflict: Rule = (c) => {
  const { droppedS, valueS, uS } = c.lag
  if (droppedS === null) return []
  return [
    sight(
      'note',
      c.run.tUs,
      `This session's lag of ${valueS.toFixed(2)} s contradicts the rig's ${droppedS.toFixed(2)} s, which was left out. Measure the rig's lag again: a hose or an instrument was changed.`,
      { sessionS: valueS, uSessionS: uS, rigS: droppedS },
    ),
  ]
}
