// What was typed into what instruments would have told: a pressure, and the contact as it is between two changes.
import { criteria } from '../criteria.table.ts'
import type { RigSpec } from '../model/rig.ts'
import type { ContactSample, ContactState, Heard } from '../model/samples.ts'
import { last, type Series } from '../model/series.ts'
import type { TypedEvent, TypedReading } from '../model/typed.ts'
import { pressureUnits } from '../model/units.ts'
import { correctedPa } from './corrected-pressure.ts'

type HeardContact = ContactSample & Heard

/** The pressure of an event, as a reading of the manometer has it; null for a contact. */
export function typedPressure({ t, what, text, unit, digit }: TypedEvent, rig: RigSpec): TypedReading | null {
  if (what === 'contact' || unit == null) return null
  const displayedPa = Number(text) * pressureUnits[unit] * rig.suctionSign
  const rawPa = rig.calibration ? correctedPa(rig.calibration, displayedPa) : displayedPa
  return { tUs: t, what, text, rawPa, digitPa: (digit ?? 0) * pressureUnits[unit] }
}

const sampleAt = (tUs: number, state: ContactState, line: number): HeardContact => ({
  ...{ tUs, state, line, ohm: Number.NaN, digitOhm: null, askedUs: null, waitingUs: null, deviceUs: null },
})

/**
 * The samples that follow from a key at `tUs`: the old state until a reaction before it, the new one from it on. The
 * network has five states and no key for them.
 */
export function keyedContact(contact: Series<HeardContact>, tUs: number, text: string, rig: RigSpec): HeardContact[] {
  const state = rig.pair === 'network' ? 'unknown' : text === 'closed' ? 'closed' : 'open'
  const held = heldContact(contact, tUs, rig)
  return [...held, sampleAt(tUs, state, contact.length + held.length + 1)]
}

/** While no key is pressed the contact is as it was until a reaction ago; none before the first key. */
export function heldContact(contact: Series<HeardContact>, tUs: number, rig: RigSpec): HeardContact[] {
  const before = last(contact)
  const knownUs = Math.round(tUs - reactionUs(rig))
  return before && knownUs > before.tUs ? [sampleAt(knownUs, before.state, contact.length + 1)] : []
}

const reactionUs = ({ typed: { contact } }: RigSpec) => (contact?.reactionS ?? criteria.reactionS) * 1e6
