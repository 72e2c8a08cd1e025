// What was typed into what instruments would have told: a pressure, and the contact as it is between two changes.
import { criteria } from '../criteria.table.ts'
import type { RigSpec } from '../model/rig.ts'
import { type ContactRows, type ContactState, stateCode } from '../model/samples.ts'
import type { TypedEvent, TypedReading } from '../model/typed.ts'
import { pressureUnits } from '../model/units.ts'
import { correctedPa } from './corrected-pressure.ts'

/** The pressure of an event, as a reading of the manometer has it; null for a contact. */
export function typedPressure({ t, what, text, unit, digit }: TypedEvent, rig: RigSpec): TypedReading | null {
  if (what === 'contact' || unit == null) return null
  const displayedPa = Number(text) * pressureUnits[unit] * rig.suctionSign
  const rawPa = rig.calibration ? correctedPa(rig.calibration, displayedPa) : displayedPa
  return { tUs: t, what, text, rawPa, digitPa: (digit ?? 0) * pressureUnits[unit] }
}

const unheard = {
  ohm: Number.NaN,
  digitOhm: Number.NaN,
  askedUs: Number.NaN,
  waitingUs: Number.NaN,
  deviceUs: Number.NaN,
}

/**
 * The contact after a key at `tUs`: in the old state until a reaction before it, in the new one from it on. The network has
 * five states and no key for them.
 */
export function keyedContact(contact: ContactRows, tUs: number, text: string, rig: RigSpec): ContactRows {
  const state: ContactState = rig.pair === 'network' ? 'unknown' : text === 'closed' ? 'closed' : 'open'
  const held = heldContact(contact, tUs, rig)
  return held.plus({ ...unheard, tUs, line: held.length + 1, state: stateCode(state) })
}

/** While no key is pressed the contact is as it was until a reaction ago; not before the first key. */
export function heldContact(contact: ContactRows, tUs: number, rig: RigSpec): ContactRows {
  const before = contact.at(-1)
  const knownUs = Math.round(tUs - reactionUs(rig))
  if (!before || knownUs <= before.tUs) return contact
  return contact.plus({ ...unheard, tUs: knownUs, line: contact.length + 1, state: before.state })
}

const reactionUs = ({ typed: { contact } }: RigSpec) => (contact?.reactionS ?? criteria.reactionS) * 1e6
