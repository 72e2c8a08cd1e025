// Replies to a repeated SCPI query (IEEE 488.2 numbers, lists, special values) into pressures and resistances.
import type { Fault, Reading } from '../src/core/model/reading.ts'
import { type KnownUnit, knownUnit, pressureUnitNames } from '../src/core/model/units.ts'
import type { Driver, Options, Role } from '../src/driver.ts'
import { type LineMemory, splitLines } from '../src/protocol/lines.ts'
import { faultOf, type Measured, measured, wrongQuantity } from '../src/protocol/measured.ts'
import { digitSize, parseNumber, scpiValue } from '../src/protocol/number-forms.ts'
import { decodeSymbols } from '../src/protocol/symbols.ts'

const maxFrameBytes = 512
const terminators = { lf: '\n', cr: '\r', crlf: '\r\n' } as const

const position = (what: string, first: number) =>
  ({
    kind: 'number',
    min: 1,
    max: 32,
    default: first,
    whole: true,
    help: `Place of ${what} in a reply that is a list.`,
  }) as const

export const driver: Driver<LineMemory> = {
  id: 'scpi-query',
  title: 'A SCPI query sent at a fixed interval, one reply a reading',
  serial: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
  options: {
    command: { kind: 'text', default: 'READ?', help: 'The query, without its end.' },
    intervalMs: { kind: 'number', unit: 'ms', min: 20, max: 10_000, default: 200, help: 'Time from query to query.' },
    start: { kind: 'text', default: '', help: 'Sent once at each connection, such as SYST:REM; nothing where empty.' },
    unit: {
      kind: 'choice',
      values: pressureUnitNames,
      default: 'Pa',
      help: 'Unit of a pressure that stands without one. A resistance is in ohm.',
    },
    item: position('the value', 1),
    pressureItem: position("a bridge's pressure", 1),
    resistanceItem: position("a bridge's resistance", 2),
    terminator: {
      kind: 'choice',
      values: ['lf', 'crlf', 'cr'],
      default: 'lf',
      help: 'What ends a query; a reply ends in cr for cr, else in lf or CR LF.',
    },
    replyMs: {
      kind: 'number',
      unit: 'ms',
      min: 50,
      max: 30_000,
      default: 2000,
      help: 'How long to wait for a reply before the query is sent again.',
    },
  },
  channels: [
    { name: 'pressure', quantity: 'pressure', unit: 'Pa' },
    { name: 'resistance', quantity: 'resistance', unit: 'ohm' },
  ],
  wire: (options) => {
    const terminator = terminators[String(options['terminator']) as keyof typeof terminators]
    const start = String(options['start'])
    return {
      framing: { kind: 'lines', end: endOf(options) },
      start: start === '' ? null : start + terminator,
      poll: [
        {
          bytes: String(options['command']) + terminator,
          periodMs: Number(options['intervalMs']),
          replyMs: Number(options['replyMs']),
          quietMs: 0,
        },
      ],
      maxFrameBytes,
    }
  },
  decode: (memory, chunk, { options, role }) => {
    const { lines, memory: lineMemory } = splitLines(memory, chunk, endOf(options), maxFrameBytes)
    const readings: Reading[] = []
    const faults: Fault[] = []
    for (const line of lines) {
      if (line === null) faults.push(faultOf('overlong', `no line end in ${maxFrameBytes} bytes: check the baud rate`))
      else if (!isEcho(line.text, options)) {
        const found = readReply(decodeSymbols(line.text).trim(), role, options)
        if (Array.isArray(found)) readings.push(...found.map((value) => ({ ...value, frameBytes: line.frameBytes })))
        else faults.push(found)
      }
    }
    return { readings, faults, memory: lineMemory }
  },
}

function endOf(options: Options): 'lf' | 'cr' {
  return options['terminator'] === 'cr' ? 'cr' : 'lf'
}

/** An empty line, or what was sent coming back from an instrument that repeats each command. */
function isEcho(text: string, options: Options): boolean {
  return ['', options['command'], options['start']].includes(text.trim())
}

function readReply(text: string, role: Role, options: Options): Measured[] | Fault {
  if (/^[^\w"]*err/i.test(text) || /^[+-]?\d+\s*,\s*"/.test(text))
    return faultOf('device-error', `the instrument reports ${text}`)
  const items = text.split(/[;,]/)
  const values: Measured[] = []
  for (const [place, quantity] of places(role, options)) {
    const item = items[place - 1]
    if (item === undefined) return faultOf('unreadable', `item ${place} wanted, ${items.length} came: "${text}"`)
    const value = readItem(item.trim(), quantity === 'pressure' ? String(options['unit']) : 'ohm')
    if (!('quantity' in value)) return value
    if (value.quantity !== quantity) return wrongQuantity(quantity, value.quantity)
    values.push(value)
  }
  return values
}

function places(role: Role, options: Options): [number, 'pressure' | 'resistance'][] {
  if (role === 'manometer') return [[Number(options['item']), 'pressure']]
  if (role === 'meter') return [[Number(options['item']), 'resistance']]
  return [
    [Number(options['pressureItem']), 'pressure'],
    [Number(options['resistanceItem']), 'resistance'],
  ]
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
