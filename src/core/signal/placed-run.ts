// What a run has heard into readings at the times at which they were taken.
import type { Run } from '../intake/run.ts'
import { Columns } from '../model/columns.ts'
import type { PortName } from '../model/rig.ts'
import type { Contact } from '../model/samples.ts'
import { toArray } from '../model/series.ts'
import type { Setup } from '../model/setup.ts'
import { type Placing, placeInTime } from './instrument-times.ts'

export type PlacedRun = {
  /** How the lines of manometer and meter were placed. */
  placings: { pressure: Placing; contact: Placing }
  /** Zero not yet subtracted. */
  raw: Columns<'tUs' | 'rawPa' | 'halfUs'>
  contact: Contact
  /** When the link of an instrument that decides was lost or came back. */
  breaksUs: { tUs: number; port: PortName }[]
}

/** A keyed contact has the time at which the key was pressed. */
export function placeRun(run: Run, { rig }: Setup): PlacedRun {
  // The second manometer is a witness: what becomes of its cable takes nothing from what the others show.
  const breaksUs = toArray(run.linkBreaks).filter(({ port }) => port !== 'manometer-2')
  const breaksOf = (quantity: 'meter' | 'manometer') =>
    breaksUs.filter(({ port }) => port === quantity || port === 'bridge').map(({ tUs }) => tUs)
  const isKeyed = rig.typed.contact !== null
  const { rawPa } = run.pressure.part().of
  const came = run.contact.part().of
  const pressure = placeInTime(run.pressure, breaksOf('manometer'), (i) => rawPa[i]!)
  // Where a line tells both and is dated by a clock, it is placed once.
  const contact = tellsBoth(run)
    ? pressure
    : placeInTime(isKeyed ? run.contact.part(0, 0) : run.contact, breaksOf('meter'), (i) => came.ohm[i]!)
  const { ohm, digitOhm, state } = came
  const placed = isKeyed ? { tUs: came.tUs, halfUs: new Float64Array(came.tUs.length) } : contact
  return {
    placings: { pressure, contact },
    raw: new Columns({ tUs: pressure.tUs, rawPa, halfUs: pressure.halfUs }, rawPa.length),
    contact: new Columns({ tUs: placed.tUs, halfUs: placed.halfUs, ohm, digitOhm, state }, ohm.length),
    breaksUs,
  }
}

/** Whether each line of a bridge gave a pressure and a contact, and the time by its clock. */
function tellsBoth({ ports, pressure, contact }: Run): boolean {
  if (pressure.length !== contact.length || !ports.some(({ name }) => name === 'bridge')) return false
  const [a, b] = [pressure.of, contact.of]
  // A time that is not known equals none.
  for (let i = 0; i < pressure.length; i++) if (a.tUs[i] !== b.tUs[i] || a.deviceUs[i] !== b.deviceUs[i]) return false
  return true
}
