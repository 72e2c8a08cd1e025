// Replies to a repeated SCPI query (IEEE 488.2 numbers, lists, special values) into pressures and resistances.
import type { Fault } from '../src/core/model/reading.ts'
import { type KnownUnit, knownUnit, pressureUnitNames } from '../src/core/model/units.ts'
import type { Driver, Options, Role } from '../src/driver.ts'
import { endOf, isEcho, queryOptions, queryWire } from '../src/protocol/line-query.ts'
import { type LineMemory, readLines } from '../src/protocol/lines.ts'
import { faultOf, type Measured, measured, wrongQuantity } from '../src/protocol/measured.ts'
import { digitSize, parseNumber, scpiValue } from '../src/protocol/number-forms.ts'
import { placeOptions, placesOf } from '../src/protocol/places.ts'
import { refusedWord } from '../src/protocol/refused-words.ts'
import { decodeSymbols, isText } from '../src/protocol/symbols.ts'

const maxFrameBytes = 512

export const driver: Driver<LineMemory> = {
  id: 'scpi-query',
  title: 'A SCPI query sent at a fixed interval, one reply a reading',
  serial: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
  options: {
    ...queryOptions('READ?', 'lf'),
    unit: {
      kind: 'choice',
      values: pressureUnitNames,
      default: 'Pa',
      help: 'Unit of a pressure that comes without one. A resistance is in ohm.',
    },
    ...placeOptions('item', 'a reply that is a list'),
  },
  channels: [
    { name: 'pressure', quantity: 'pressure', unit: 'Pa' },
    { name: 'resistance', quantity: 'resistance', unit: 'ohm' },
  ],
  wire: (options) => queryWire(options, maxFrameBytes),
  decode: (memory, chunk, { options, role }) =>
    readLines(memory, chunk, endOf(options), maxFrameBytes, (text) =>
      isEcho(text, options) ? null : readReply(decodeSymbols(text).trim(), role, options),
    ),
}

function readReply(text: string, role: Role, options: Options): Measured[] | Fault {
  if (!isText(text)) return faultOf('unreadable', `no number: "${text}"`)
  if (/^[^\w"]*err/i.test(text) || /^[+-]?\d+\s*,\s*"/.test(text))
    return faultOf('device-error', `the instrument reports ${text}`)
  const refused = refusedWord(text)
  if (refused !== null) return refused
  const items = text.split(/[;,]/)
  const values: Measured[] = []
  for (const { place, quantity } of placesOf(role, options, 'item')) {
    const item = items[place - 1]
    if (item === undefined) return faultOf('unreadable', `item ${place} wanted, ${items.length} came: "${text}"`)
    const value = readItem(item.trim(), quantity === 'pressure' ? String(options['unit']) : 'ohm')
    if (!('quantity' in value)) return value
    if (value.quantity !== quantity) return wrongQuantity(quantity, value.quantity)
    values.push(value)
  }
  return values
}

/** One item of a reply: a number, or one of the words that stand for none, with a unit behind it or not. */
function readItem(text: string, unitName: string): Measured | Fault {
  const [, number = '', suffix = ''] = /^([+-]?(?:[\d.]+(?:[eE][+-]?\d+)?|N?INF|NAN))\s*([^\d\s].*)?$/i.exec(text) ?? []
  const value = parseNumber(number) ?? words[number.toUpperCase().replace('+', '')]
  if (value === undefined) return faultOf('unreadable', `no number: "${text}"`)
  const unit: KnownUnit | null = knownUnit(suffix || unitName)
  if (unit === null) return faultOf('unreadable', `"${suffix}" is not a known unit`)
  const meaning = scpiValue(value)
  return measured(meaning, Number.isFinite(meaning) ? digitSize(number) : null, unit)
}

// IEEE 488.2 leaves words for these values to the instrument; these three are common practice, no source.
const words: Readonly<Record<string, number>> = {
  INF: Number.POSITIVE_INFINITY,
  '-INF': Number.NEGATIVE_INFINITY,
  NINF: Number.NEGATIVE_INFINITY,
  NAN: Number.NaN,
}
