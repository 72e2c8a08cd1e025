// The samples that bytes become: pressure and contact, each with its time in µs since the start.
import type { Columns } from './columns.ts'

/** State of the wired pair, debounced. `closed`/`open` for a pair; the network also tells the throws apart. */
export const contactStates = [
  'unknown',
  'closed',
  'open',
  'no-closed',
  'nc-closed',
  'neither',
  'both',
  'lead-off',
  'shorted',
] as const
export type ContactState = (typeof contactStates)[number]

/** A state as it is kept in a column: its place in the list. Where there is no reading it is unknown. */
export const stateCode = (state: ContactState): number => contactStates.indexOf(state)
export const stateOf = (code = 0): ContactState => contactStates[code]!

/** How a reading came: dated by its arrival less its time on the wire. */
export type Heard = {
  tUs: number
  /** Its line, counted at its port: what cannot be read counts too. */
  line: number
  /** When the newest query before it went out, and the oldest one without an answer yet; null where none did. */
  askedUs: number | null
  waitingUs: number | null
  /** When it was taken by its instrument's own clock; null where the line does not say. */
  deviceUs: number | null
}

/** A pressure reading, corrected by the certificate where there is one; suction that pushes the switch positive, zero not yet subtracted; infinite = over range. */
export type PressureSample = { tUs: number; rawPa: number }

/** Beyond its range a display tells no pressure. */
export const isInRange = (rawPa: number): boolean => Number.isFinite(rawPa)

/** How readings came, row by row, with NaN for null; and what a session has heard of the manometer. */
export const heardColumns = ['tUs', 'line', 'askedUs', 'waitingUs', 'deviceUs'] as const
export type HeardRows = Columns<(typeof heardColumns)[number]>
export const pressureColumns = [...heardColumns, 'rawPa'] as const
export type PressureRows = Columns<(typeof pressureColumns)[number]>

/** `ohm`: NaN where the meter told no number. `digitOhm`: the last digit shown, NaN where the line does not tell it. `state`: read with `stateOf`. */
export const contactColumns = [...heardColumns, 'ohm', 'digitOhm', 'state'] as const
export type ContactRows = Columns<(typeof contactColumns)[number]>

/** The same at the times found for them. `halfUs`: each was taken within so much of `tUs`; 0 = nothing delayed it. */
export type Contact = Columns<'tUs' | 'halfUs' | 'ohm' | 'digitOhm' | 'state'>

/** Pressures with zero subtracted. `halfUs`: each was taken within so much of `tUs`; 0 = nothing delayed it. */
export type Track = Columns<'tUs' | 'pressurePa' | 'halfUs'>
export type TrackSample = { tUs: number; pressurePa: number }
