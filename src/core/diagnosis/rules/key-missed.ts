// A fail of a contact that was keyed by hand into a finding: a key that was not pressed looks the same.
import { type Rule, sight } from '../rule.ts'
import { conductsAtRest } from './conducts-at-rest.ts'
import { didNotMake } from './did-not-make.ts'
import { stayedMade } from './stayed-made.ts'

/** Between two keys the contact counts as it was: that it conducts too long may be a key that came late, or never. */
export const keyMissed: Rule = (c) => {
  if (c.setup.rig.typed.contact === null) return []
  const failed = [stayedMade, conductsAtRest, didNotMake]
    .flatMap((rule) => rule(c))
    .find(({ effect }) => effect === 'fail')
  if (!failed) return []
  const text =
    'A switch that fails and a key that was not pressed look alike. Repeat the test and press the key at each change; if it happens again reject the switch.'
  return [sight('undecided', failed.tUs, text, { changes: c.edges.length })]
}
