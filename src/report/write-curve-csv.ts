// A curve into CSV tables: pressure, contact and trips, in the part's unit and in pascal.
import type { Decimal } from '../core/model/paper-forms.ts'
import type { Curve } from '../core/view/curve.ts'
import { csvTable } from './csv-table.ts'
import { inUnit } from './curve-axis.ts'

export type CurveTables = { pressure: string; contact: string; trips: string }

/** Three tables, each with its heading. */
export function writeCurveCsv(curve: Curve, decimal: Decimal = 'point'): CurveTables {
  const both = (pressurePa: number | null) =>
    curve.unit === 'Pa' ? [pressurePa] : [pressurePa === null ? null : inUnit(curve, pressurePa), pressurePa]
  const pressureNames = curve.unit === 'Pa' ? ['pressure_Pa'] : [`pressure_${curve.unit}`, 'pressure_Pa']
  return {
    pressure: csvTable(
      ['time_s', ...pressureNames],
      curve.pressure.map(({ tS, pressurePa }) => [tS, ...both(pressurePa)]),
      decimal,
    ),
    contact: csvTable(
      ['time_s', ...pressureNames, 'contact_ohm', 'actuated'],
      curve.contact.map(({ tS, pressurePa, ohm, actuated }) => [
        tS,
        ...both(pressurePa),
        ohm,
        actuated === null ? null : String(actuated),
      ]),
      decimal,
    ),
    trips: csvTable(
      ['stroke', 'transition', 'time_s', ...pressureNames],
      curve.trips.map(({ stroke, transition, tS, pressurePa }) => [stroke, transition, tS, ...both(pressurePa)]),
      decimal,
    ),
  }
}
