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

/** A pressure reading, corrected by the certificate where there is one; suction that pushes the switch positive, zero not yet subtracted. */
export type PressureSample = { tUs: number; rawPa: number; overRange: boolean }

/** `digitOhm`: the last digit shown, where the line tells it. */
export type ContactSample = { tUs: number; ohm: number; state: ContactState; digitOhm?: number | null }

/** A pressure with zero subtracted. */
export type TrackSample = { tUs: number; pressurePa: number }
