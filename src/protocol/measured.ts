// A number text or a word with its unit into one value in SI units, and what went wrong into a fault that is safe to show.

import type { Fault, FaultCode, Quantity, Reading } from '../core/model/reading.ts'
import type { KnownUnit } from '../core/model/units.ts'
import { printable } from '../core/text/printable.ts'

/** A reading before the length of its frame is known. */
export type Measured = Omit<Reading, 'frameBytes'>

/** A value (±Infinity = over-range, NaN = the instrument said "no number") of `digit` in `unit`, as Pa or ohm. */
export function measured(value: number, digit: number | null, { quantity, unit, factor }: KnownUnit): Measured {
  // A resistance has no sign: over-range is an open circuit, and a minus must never make it look closed.
  const infinite = quantity === 'resistance' && value === Number.NEGATIVE_INFINITY
  return {
    quantity,
    // Adding nought turns a displayed -0.000 into 0.
    value: infinite ? Number.POSITIVE_INFINITY : value * factor + 0,
    unit,
    digit: digit === null ? null : digit * factor,
  }
}

/** A fault with its text made safe: printable ASCII, at most 80 characters. */
export function faultOf(code: FaultCode, text: string): Fault {
  return { code, text: printable(text) }
}

/** The fault of ohms where pressure belongs, or the reverse. */
export function wrongQuantity(wanted: Quantity, found: Quantity): Fault {
  return faultOf('wrong-quantity', `${wanted} expected, ${found} came: are the two instruments exchanged?`)
}

/** The value as the one reading of a frame, where `role` is there for its quantity; else the fault that says so. */
export function fitting(value: Measured, role: 'manometer' | 'meter' | 'bridge'): [Measured] | Fault {
  const isPressure = value.quantity === 'pressure'
  if (role === 'bridge' || isPressure === (role === 'manometer')) return [value]
  return wrongQuantity(isPressure ? 'resistance' : 'pressure', value.quantity)
}
