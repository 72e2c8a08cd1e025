// A reading of a transcript as one short line, and readings of one line with the time of their instrument.
import type { Reading } from '../../src/core/model/reading.ts'

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

export const contact = (value: number, frameBytes: number): Reading => ({
  quantity: 'contact',
  value,
  unit: 'state',
  digit: null,
  frameBytes,
})

export const takenAt = (deviceUs: number, ...readings: readonly Reading[]): Reading[] =>
  readings.map((reading) => ({ ...reading, deviceUs }))
