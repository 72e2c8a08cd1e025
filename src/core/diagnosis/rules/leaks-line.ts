// A held vacuum into a finding: hose or joints lose it.
import { leakSeen } from '../leak-seen.ts'
import { type Rule, sight } from '../rule.ts'

export const leaksLine: Rule = (c) => {
  const leak = leakSeen(c)
  if (leak === null || leak.diaphragm) return []
  const text = `${leak.lost}. Clamp off in steps (pump and manometer, hose, switch), 60 s each: the step where it begins names the part. Replace a leaking hose.`
  return [sight('undecided', leak.tUs, text, leak.evidence)]
}
