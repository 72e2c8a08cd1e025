// A run whose contact is keyed into what the next key says: the other state, or at first how it is at rest.
import type { Run } from '../intake/run.ts'
import type { RigSpec } from '../model/rig.ts'
import { stateOf } from '../model/samples.ts'

/** null where a meter sends the contact. */
export function keyDue({ contact }: Run, { typed, pair }: RigSpec): 'closed' | 'open' | null {
  if (typed.contact === null) return null
  const now = contact.at(-1)
  if (!now) return pair === 'com-nc' ? 'closed' : 'open'
  return stateOf(now.state) === 'closed' ? 'open' : 'closed'
}
