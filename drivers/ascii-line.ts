// Free-running lines of text (sign, number, unit, flags; with labels or without) into pressures and resistances.
import type { Fault, Reading } from '../src/core/model/reading.ts'
import { type KnownUnit, knownUnit, pressureUnitNames } from '../src/core/model/units.ts'
import type { Driver, Options, Role } from '../src/driver.ts'
import { readDisplay, type ShownValue } from '../src/protocol/display-line.ts'
import { type LineMemory, overlong, splitLines } from '../src/protocol/lines.ts'
import { faultOf, type Measured, measured, wrongQuantity } from '../src/protocol/measured.ts'
import { decodeSymbols } from '../src/protocol/symbols.ts'

const maxFrameBytes = 256

/** `unit`: canonical name of the unit last read, which an over-range text without one is taken to be in. */
type Memory = { lines: LineMemory | null; unit: string | null }

export const driver: Driver<Memory> = {
  id: 'ascii-line',
  title: 'Free-running lines: sign, number, unit, flags',
  serial: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
  options: {
    unit: {
      kind: 'choice',
      values: ['auto', ...pressureUnitNames, 'ohm', 'kOhm', 'MOhm'],
      default: 'auto',
      help: 'Unit of a number that stands alone; a unit in the line wins. auto: ohm for a meter, refused for pressure.',
    },
    end: {
      kind: 'choice',
      values: ['lf', 'cr'],
      default: 'lf',
      help: 'What ends a line: lf (also CR LF), or cr alone.',
    },
  },
  channels: [
    { name: 'pressure', quantity: 'pressure', unit: 'Pa' },
    { name: 'resistance', quantity: 'resistance', unit: 'ohm' },
  ],
  wire: (options) => ({ framing: { kind: 'lines', end: endOf(options) }, start: null, poll: [], maxFrameBytes }),
  decode: (memory, chunk, { options, role }) => {
    const { lines, memory: lineMemory } = splitLines(memory?.lines ?? null, chunk, endOf(options), maxFrameBytes)
    const readings: Reading[] = []
    const faults: Fault[] = []
    let unit = memory?.unit ?? null
    for (const line of lines) {
      if (line === null) faults.push(overlong(maxFrameBytes))
      else if (line.text.trim() !== '') {
        const found = readLine(decodeSymbols(line.text), role, String(options['unit']), unit)
        if (Array.isArray(found)) {
          readings.push(...found.map((value) => ({ ...value, frameBytes: line.frameBytes })))
          unit = found.at(-1)?.unit ?? unit
        } else faults.push(found)
      }
    }
    return { readings, faults, memory: { lines: lineMemory, unit } }
  },
}

function endOf(options: Options): 'lf' | 'cr' {
  return options['end'] === 'cr' ? 'cr' : 'lf'
}

function readLine(text: string, role: Role, unitOption: string, lastUnit: string | null): Measured[] | Fault {
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
