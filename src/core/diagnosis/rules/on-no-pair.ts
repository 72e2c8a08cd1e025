// A contact seen the wrong way round into a finding: the leads sit on COM and NO.
import { invertedStrokes } from '../inverted-strokes.ts'
import { type Rule, sight } from '../rule.ts'

export const onNoPair: Rule = (c) => {
  const seen = invertedStrokes(c)
  if (seen === null || c.setup.rig.pair !== 'com-nc') return []
  const text =
    'The contact is open at rest and closes as the pressure rises: the leads sit on COM and NO. Move the lead from NO to NC and start again.'
  return [sight('void', seen.tUs, text, seen.evidence)]
}
