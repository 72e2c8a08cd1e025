// What a run has heard into readings at the times at which they were taken.
import type { Run } from '../intake/run.ts'
import { Columns, columnsOf } from '../model/columns.ts'
import type { PortName } from '../model/rig.ts'
import { type ContactSample, heardColumns } from '../model/samples.ts'
import { toArray } from '../model/series.ts'
import type { Setup } from '../model/setup.ts'
import { atTimes, type Placed, type Placing, placeInTime } from './instrument-times.ts'

export type PlacedRun = {
  /** How the lines of manometer and meter were placed. */
  placings: { pressure: Placing; contact: Placing }
  /** Zero not yet subtracted. */
  raw: Columns<'tUs' | 'rawPa' | 'halfUs'>
  contact: readonly Placed<ContactSample>[]
  /** When the link of an instrument that decides was lost or came back. */
  breaksUs: { tUs: number; port: PortName }[]
}

/** A keyed contact has the time at which the key was pressed. */
export function placeRun(run: Run, { rig }: Setup): PlacedRun {
  // The second manometer is a witness: what becomes of its cable takes nothing from what the others show.
  const breaksUs = toArray(run.linkBreaks).filter(({ port }) => port !== 'manometer-2')
  const breaksOf = (quantity: 'meter' | 'manometer') =>
    breaksUs.filter(({ port }) => port === quantity || port === 'bridge').map(({ tUs }) => tUs)
  const came = toArray(run.contact)
  const isKeyed = rig.typed.contact !== null
  const { rawPa } = run.pressure.part().of
  const pressure = placeInTime(run.pressure, breaksOf('manometer'), (i) => rawPa[i]!)
  const contact = placeInTime(columnsOf(heardColumns, isKeyed ? [] : came), breaksOf('meter'), (i) => came[i]!.ohm)
  const { tUs, halfUs } = pressure
  return {
    placings: { pressure, contact },
    raw: new Columns({ tUs, rawPa, halfUs }, tUs.length),
    contact: isKeyed ? came : atTimes(came, contact),
    breaksUs,
  }
}
