// A contact seen the wrong way round into a finding: the leads sit on COM and NC.
import { invertedStrokes } from '../inverted-strokes.ts'
import { type Rule, sight } from '../rule.ts'

export const onNcPair: Rule = (c) => {
  const seen = invertedStrokes(c)
  if (seen === null || c.setup.rig.pair === 'com-nc') return []
  const text =
    'The contact is closed at rest and opens as the pressure rises: the leads sit on COM and NC. Move the lead from NC to NO and start again.'
  return [sight('void', seen.tUs, text, seen.evidence)]
}
