// Lines of columns, as data loggers send them, into pressures and resistances: the column counts, not the order of words.
import type { Fault } from '../src/core/model/reading.ts'
import { knownUnit, pressureUnitNames } from '../src/core/model/units.ts'
import type { Driver, Options, Role } from '../src/driver.ts'
import { readDisplay } from '../src/protocol/display-line.ts'
import { lineEnd } from '../src/protocol/line-values.ts'
import { type LineMemory, readLines } from '../src/protocol/lines.ts'
import { faultOf, type Measured, measured, wrongQuantity } from '../src/protocol/measured.ts'
import { type Place, placeOptions, placesOf } from '../src/protocol/places.ts'
import { decodeSymbols } from '../src/protocol/symbols.ts'

const maxFrameBytes = 1024
const separators = { comma: ',', semicolon: ';', tab: '\t' } as const

export const driver: Driver<LineMemory> = {
  id: 'csv-line',
  title: 'Lines of columns, as data loggers send them',
  serial: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
  options: {
    ...placeOptions('column', 'a line, its columns counted from 1'),
    separator: {
      kind: 'choice',
      values: ['comma', 'semicolon', 'tab'],
      default: 'comma',
      help: 'What parts the columns. A decimal comma needs semicolon or tab, or quotes around the number.',
    },
    pressureUnit: {
      kind: 'choice',
      values: ['auto', ...pressureUnitNames],
      default: 'auto',
      help: 'Unit of a pressure without one; a unit in its column wins. auto: such a pressure is refused.',
    },
    resistanceUnit: {
      kind: 'choice',
      values: ['ohm', 'kOhm', 'MOhm'],
      default: 'ohm',
      help: 'Unit of a resistance without one; a unit in its column wins.',
    },
    end: lineEnd,
  },
  channels: [
    { name: 'pressure', quantity: 'pressure', unit: 'Pa' },
    { name: 'resistance', quantity: 'resistance', unit: 'ohm' },
  ],
  wire: (options) => ({ framing: { kind: 'lines', end: endOf(options) }, start: null, poll: [], maxFrameBytes }),
  decode: (memory, chunk, { options, role }) =>
    readLines(memory, chunk, endOf(options), maxFrameBytes, (text) =>
      text.trim() === '' ? null : readColumns(decodeSymbols(text), role, options),
    ),
}

const endOf = (options: Options) => (options['end'] === 'cr' ? 'cr' : 'lf')

function readColumns(text: string, role: Role, options: Options): Measured[] | Fault {
  const columns = columnsOf(text, separators[options['separator'] as keyof typeof separators])
  if (columns === null) return faultOf('unreadable', `a quote without its other half: "${text}"`)
  const values: Measured[] = []
  for (const place of placesOf(role, options, 'column')) {
    const value = readColumn(columns, place, options)
    if (!('quantity' in value)) return value
    values.push(value)
  }
  return values
}

/** The texts between the separators; quotes hold one together (RFC 4180, 2.5 to 2.7). Null where a quote is not closed. */
function columnsOf(text: string, separator: string): string[] | null {
  const columns: string[] = []
  const column = new RegExp(`[ ]*(?:"((?:[^"]|"")*)"[ ]*|([^${separator}"]*))(?:${separator}|$)`, 'y')
  for (let at = 0; at <= text.length; at = column.lastIndex) {
    column.lastIndex = at
    const found = column.exec(text)
    if (found === null) return null
    columns.push(found[1]?.replaceAll('""', '"') ?? found[2] ?? '')
    if (!found[0].endsWith(separator)) break
  }
  return columns
}

function readColumn(columns: readonly string[], { place, quantity }: Place, options: Options): Measured | Fault {
  const text = columns[place - 1]?.trim()
  if (text === undefined) return faultOf('unreadable', `column ${place} wanted, ${columns.length} came`)
  if (text === '') return faultOf('unreadable', `column ${place} is empty`)
  const shown = readDisplay(text)
  if ('fault' in shown) return shown.fault
  const [only, more] = shown.values
  if (only === undefined || more !== undefined || only.foreign !== null)
    return faultOf('unreadable', `no single value in column ${place}: "${text}"`)
  const stated = String(options[quantity === 'pressure' ? 'pressureUnit' : 'resistanceUnit'])
  const unit = only.unit ?? (stated === 'auto' ? null : knownUnit(stated))
  if (unit === null) return faultOf('no-unit', `${text} has no unit: set "pressureUnit" in the rig file`)
  if (unit.quantity !== quantity) return wrongQuantity(quantity, unit.quantity)
  return measured(only.value, only.digit, unit)
}
