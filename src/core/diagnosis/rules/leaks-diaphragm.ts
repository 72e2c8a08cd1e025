// A held vacuum into a finding: the diaphragm loses it.
import { leakSeen } from '../leak-seen.ts'
import { type Rule, sight } from '../rule.ts'

export const leaksDiaphragm: Rule = (c) => {
  const leak = leakSeen(c)
  if (!leak?.diaphragm) return []
  const text = `${leak.lost} with the switch on the line, none without it: the diaphragm leaks. Reject the switch.`
  return [sight('fail', leak.tUs, text, leak.evidence)]
}
