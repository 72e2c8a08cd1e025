// The samples that bytes become: pressure and contact, each with its time in µs since the start.

/** State of the wired pair, debounced. `closed`/`open` for a pair; the network also tells the throws apart. */
export type ContactState =
  | 'unknown'
  | 'closed'
  | 'open'
  | 'no-closed'
  | 'nc-closed'
  | 'neither'
  | 'both'
  | 'lead-off'
  | 'shorted'

/** How a reading came: dated by its arrival less its time on the wire. */
export type Heard = {
  tUs: number
  /** Its line, counted at its port: what cannot be read counts too. */
  line: number
  /** When the newest query before it went out, and the oldest one without an answer yet; null where none did. */
  askedUs: number | null
  waitingUs: number | null
}

/** A pressure reading, corrected by the certificate where there is one; suction that pushes the switch positive, zero not yet subtracted. */
export type PressureSample = { tUs: number; rawPa: number; overRange: boolean }

/** `ohm`: NaN where the meter told no number. `digitOhm`: the last digit shown, where the line tells it. */
export type ContactSample = { tUs: number; ohm: number; state: ContactState; digitOhm?: number | null }

/** A pressure with zero subtracted. `halfUs`: it was taken within so much of `tUs`; absent = nothing delayed it. */
export type TrackSample = { tUs: number; pressurePa: number; halfUs?: number }
