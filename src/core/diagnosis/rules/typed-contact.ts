// A contact that was keyed by hand into a finding: what nobody can know of it.
import { type Rule, sight } from '../rule.ts'

export const typedContact: Rule = (c) => {
  const first = c.run.contact.at(0)
  if (c.setup.rig.typed.contact === null || !first) return []
  const text =
    'The contact was keyed by ear: a change shorter than a reaction is missed, and its resistance is not known.'
  return [sight('note', first.tUs, text, { changes: c.edges.length })]
}
