// A line as a display shows it into the values that an instrument's role takes, each with a unit.
import type { Fault } from '../core/model/reading.ts'
import { type KnownUnit, knownUnit, pressureUnitNames } from '../core/model/units.ts'
import { readDisplay, type ShownValue } from './display-line.ts'
import { faultOf, type Measured, measured, wrongQuantity } from './measured.ts'

type Role = 'manometer' | 'meter' | 'bridge'

/** The option `unit` of a driver whose lines may leave the unit out. */
export const lineUnit = {
  kind: 'choice',
  values: ['auto', ...pressureUnitNames, 'ohm', 'kOhm', 'MOhm'],
  default: 'auto',
  help: 'Unit of a number that comes without one; a unit in the line wins. auto: ohm for a meter, refused for pressure.',
} as const

/** The option `end` of a driver that reads lines. */
export const lineEnd = {
  kind: 'choice',
  values: ['lf', 'cr'],
  default: 'lf',
  help: 'What ends a line: lf (also CR LF), or cr alone.',
} as const

/** The values that an instrument of `role` is there for, or the fault that forbids the use of the line; a number without a unit is in `unitOption`. */
export function readLine(text: string, role: Role, unitOption: string, lastUnit: string | null): Measured[] | Fault {
  const shown = readDisplay(text)
  if ('fault' in shown) return shown.fault
  const values = withUnits(shown.values, role, unitOption, lastUnit)
  if (!Array.isArray(values)) return values
  const wanted = role === 'bridge' ? null : role === 'meter' ? 'resistance' : 'pressure'
  const kept = values.filter(({ quantity }) => wanted === null || quantity === wanted)
  const [first] = values
  if (wanted !== null && kept.length === 0 && first !== undefined) return wrongQuantity(wanted, first.quantity)
  if (kept.length > 1 && new Set(kept.map(({ quantity }) => quantity)).size < kept.length)
    return faultOf('unreadable', `more than one ${kept[0]?.quantity} in one line: which one counts is not clear`)
  return kept
}

/** The values that have a unit: their own where any has one, else the one number that stands alone takes the option's. */
function withUnits(
  values: readonly ShownValue[],
  role: Role,
  unitOption: string,
  lastUnit: string | null,
): Measured[] | Fault {
  const [only] = values
  if (only?.unit && values.length === 1) return [measured(only.value, only.digit, only.unit)]
  const stated = values.flatMap(({ value, digit, unit }) => (unit ? [measured(value, digit, unit)] : []))
  const bare = values.filter(({ unit, foreign }) => unit === null && foreign === null)
  const missing = bare.find(({ value }) => !Number.isFinite(value))
  if (stated.length > 0)
    return missing ? faultOf('no-unit', 'an over-range text without unit beside a value with one') : stated
  const [lone] = bare
  if (lone === undefined) return faultOf('unreadable', `"${values[0]?.foreign}" is not a known unit`)
  if (values.length > 1) return faultOf('unreadable', `${values.length} numbers and no unit known here`)
  const unit = unitOfLone(lone.value, role, unitOption, lastUnit)
  if (unit === null) return faultOf('no-unit', `${lone.value} has no unit: set the option "unit" in the rig file`)
  return [measured(lone.value, lone.digit, unit)]
}

function unitOfLone(value: number, role: Role, unitOption: string, lastUnit: string | null): KnownUnit | null {
  // Over-range is no change of unit, so it stays in the unit of the lines before. A bridge's could be of either quantity.
  if (!Number.isFinite(value) && lastUnit !== null && role !== 'bridge') return knownUnit(lastUnit)
  if (unitOption !== 'auto') return knownUnit(unitOption)
  return role === 'meter' ? knownUnit('ohm') : null
}
