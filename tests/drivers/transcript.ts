// What a transcript states: bytes of an instrument, and the readings and faults that its driver makes of them.
import type { Fault, Reading } from '../../src/core/model/reading.ts'
import type { Options, Role } from '../../src/driver.ts'

/**
 * One conversation. `bytes` is latin1 text as received, all of it, so it begins with whatever was under way when the
 * port opened. Numbers of `readings` hold to 1e-12 relative. A fault's text is checked for the words given here.
 */
export type Transcript = {
  name: string
  role: Role
  options?: Options
  bytes: string
  readings: readonly Reading[]
  faults: readonly Fault[]
}

/** A reading as one short line of a transcript. */
export const pressure = (value: number, unit: string, digit: number | null, frameBytes: number): Reading => ({
  quantity: 'pressure',
  value,
  unit,
  digit,
  frameBytes,
})

export const resistance = (value: number, digit: number | null, frameBytes: number): Reading => ({
  quantity: 'resistance',
  value,
  unit: 'ohm',
  digit,
  frameBytes,
})
