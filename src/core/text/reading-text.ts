// One reading of an instrument into the words in which a screen shows it.
import type { Reading } from '../model/reading.ts'
import { type PressureUnit, pressureUnits } from '../model/units.ts'
import { givenText } from './figures-text.ts'
import { oneUnitText } from './pressure-text.ts'

/** `-0.251 inH2O`, `0.31 ohm`, `closed`, `over range`, `no number`. */
export function readingText({
  quantity,
  value,
  unit,
  digit,
}: Pick<Reading, 'quantity' | 'value' | 'unit' | 'digit'>): string {
  if (Number.isNaN(value)) return 'no number'
  if (!Number.isFinite(value)) return `${value > 0 ? '' : 'negative '}over range`
  if (quantity === 'contact') return value === 1 ? 'closed' : 'open'
  if (quantity === 'resistance') return `${givenText(value, 5)} ohm`
  const known = unit in pressureUnits ? (unit as PressureUnit) : 'Pa'
  return oneUnitText(value, known, digit === null ? { upTo: 5 } : { stepPa: digit })
}
