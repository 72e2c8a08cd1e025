// A moment at which something was typed into what the contact showed then, and for how long before.
import { isActuated } from '../model/pair.ts'
import { stateOf } from '../model/samples.ts'
import { gapUs } from '../signal/silence.ts'
import { indexAt } from '../statistics/index-at.ts'
import type { Case } from './rule.ts'

/** Whether the switch is actuated at `tUs`, and since when it has been read so without a gap, s; null where nobody read it. */
export function contactSince(
  { contact, streams, setup }: Case,
  tUs: number,
): { actuated: boolean; forS: number } | null {
  const longestUs = gapUs(streams.contactIntervalS)
  let [nextUs, actuated]: [number, boolean | null] = [tUs, null]
  for (let i = indexAt(contact, tUs) - 1; i >= 0; i--) {
    const [atUs, is] = [contact.of.tUs[i]!, isActuated(stateOf(contact.of.state[i]), setup.rig.pair)]
    if (is === null || nextUs - atUs > longestUs || (actuated !== null && is !== actuated)) break
    actuated = is
    nextUs = atUs
  }
  return actuated === null ? null : { actuated, forS: (tUs - nextUs) / 1e6 }
}
