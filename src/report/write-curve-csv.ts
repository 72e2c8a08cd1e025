// A curve into CSV tables (RFC 4180): pressure, contact and trips, in the part's unit and in pascal.
import { givenText } from '../core/text/figures-text.ts'
import type { Curve } from '../core/view/curve.ts'
import { inUnit } from './curve-axis.ts'

export type CurveTables = { pressure: string; contact: string; trips: string }

/** Three tables, each with its heading. An empty cell: not known. `inf`: over range. Seven significant digits. */
export function writeCurveCsv(curve: Curve): CurveTables {
  const both = (pressurePa: number | null) =>
    curve.unit === 'Pa' ? [pressurePa] : [pressurePa === null ? null : inUnit(curve, pressurePa), pressurePa]
  const pressureNames = curve.unit === 'Pa' ? ['pressure_Pa'] : [`pressure_${curve.unit}`, 'pressure_Pa']
  return {
    pressure: table(
      ['time_s', ...pressureNames],
      curve.pressure.map(({ tS, pressurePa }) => [tS, ...both(pressurePa)]),
    ),
    contact: table(
      ['time_s', ...pressureNames, 'contact_ohm', 'actuated'],
      curve.contact.map(({ tS, pressurePa, ohm, actuated }) => [
        tS,
        ...both(pressurePa),
        ohm,
        actuated === null ? null : String(actuated),
      ]),
    ),
    trips: table(
      ['stroke', 'transition', 'time_s', ...pressureNames],
      curve.trips.map(({ stroke, transition, tS, pressurePa }) => [stroke, transition, tS, ...both(pressurePa)]),
    ),
  }
}

type Cell = number | string | null

function table(names: string[], rows: Cell[][]): string {
  return [names, ...rows].map((row) => `${row.map(cell).join(',')}\r\n`).join('')
}

function cell(value: Cell): string {
  if (value === null || Number.isNaN(value)) return ''
  if (typeof value === 'string') return value
  if (!Number.isFinite(value)) return value > 0 ? 'inf' : '-inf'
  return givenText(value, 7)
}
