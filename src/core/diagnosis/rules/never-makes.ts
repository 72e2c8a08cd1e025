// A contact that never changes into a finding: the switch does not make at any pressure that was drawn.
import { neverMakesPa } from '../never-makes-pressure.ts'
import { type Rule, sayPressure, sight } from '../rule.ts'
import { stillContact } from '../still-contact.ts'

export const neverMakes: Rule = (c) => {
  const still = stillContact(c)
  if (still === null) return []
  const { rating, rig } = c.setup
  const { peakUs, reachedPa, kicks, repeated, open } = still
  const limitPa = neverMakesPa(rating, rig)
  const upTo = `up to ${sayPressure(c, reachedPa)}`
  if (still.noIsDead) {
    const text = `NC opened but NO never closed ${upTo}: the NO contact is dead. Reject the switch.`
    return [sight('fail', peakUs, text, { reachedPa, limitPa })]
  }
  // A kick without a contact is a lead that is off COM; and NO closed throughout is another fault.
  if ((repeated && open) || (rig.pair === 'com-no' && !open) || reachedPa < limitPa) return []
  const hint = repeated
    ? 'though the mechanism moved: check terminals and leads'
    : 'and no kick: check the port, the hose and the diaphragm'
  return [sight('undecided', peakUs, `No trip ${upTo}, ${hint}.`, { reachedPa, limitPa, kicks })]
}
