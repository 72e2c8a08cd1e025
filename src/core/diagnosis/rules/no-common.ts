// A contact that never changes though the mechanism kicks into a finding: a lead is not on COM.

import { type Rule, sight } from '../rule.ts'
import { stillContact } from '../still-contact.ts'

export const noCommon: Rule = (c) => {
  const still = stillContact(c)
  if (still === null || still.noIsDead || !still.repeated || !still.open) return []
  const text =
    'The mechanism kicks but the contact never changes: one lead is not on COM. Move one lead to COM and start again.'
  const evidence = { strokes: still.strokes, kickPa: still.kickPa, noisePa: c.zero.noisePa }
  return [sight('void', still.peakUs, text, evidence)]
}
