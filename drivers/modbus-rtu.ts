// Registers read by Modbus RTU (functions 03 and 04) into pressures and resistances.
import type { Fault, Quantity, Reading } from '../src/core/model/reading.ts'
import { knownUnit, pressureUnitNames } from '../src/core/model/units.ts'
import type { Driver, Options, Role } from '../src/driver.ts'
import { faultOf, type Measured, measured } from '../src/protocol/measured.ts'
import { exceptionText, findAnswer, readRequest } from '../src/protocol/modbus.ts'
import {
  type ByteOrder,
  byteOrders,
  type RegisterType,
  registerNumber,
  registersOf,
  registerTypes,
} from '../src/protocol/registers.ts'

/** The longest answer that the standard allows. */
const maxFrameBytes = 256

/** `request`: what waits for its answer. `rest`: bytes since then. `foreign`: the last of them were told as no answer. */
type Memory = { request: string | null; rest: string; foreign: boolean }

const register = (min: number, first: number, help: string) =>
  ({ kind: 'number', min, max: 65_535, default: first, whole: true, help }) as const
const scale = (what: string) =>
  ({ kind: 'number', min: 1e-9, max: 1e9, default: 1, help: `One step of ${what}, in its unit.` }) as const

export const driver: Driver<Memory> = {
  id: 'modbus-rtu',
  title: 'Registers read by Modbus RTU, functions 03 and 04',
  serial: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
  options: {
    slave: {
      kind: 'number',
      min: 1,
      max: 247,
      default: 1,
      whole: true,
      help: 'Address of the instrument on the line.',
    },
    function: {
      kind: 'choice',
      values: ['03', '04'],
      default: '03',
      help: '03 reads holding registers, 04 input registers.',
    },
    register: register(0, 0, 'First register of the value, of a bridge that of the pressure, counted from 0.'),
    resistanceRegister: register(-1, -1, "First register of a bridge's resistance; -1 for none."),
    decimalsRegister: register(-1, -1, 'Register with the number of decimals of a whole number; -1 for none.'),
    type: { kind: 'choice', values: registerTypes, default: 'int16', help: 'How a value is stored.' },
    order: {
      kind: 'choice',
      values: byteOrders,
      default: 'abcd',
      help: 'Bytes of a value as they come, a the high one: abcd; cdab with the low word first; badc, dcba with bytes swapped.',
    },
    unit: {
      kind: 'choice',
      values: pressureUnitNames,
      default: 'Pa',
      help: 'Unit of a pressure. A resistance is in ohm.',
    },
    scale: scale('the value'),
    resistanceScale: scale("a bridge's resistance"),
    overRange: {
      kind: 'text',
      default: '',
      help: 'Stored numbers that mean over-range, such as 32767 -32768 0x7FFF; a negative one is below the range.',
    },
    noNumber: { kind: 'text', default: '', help: 'Stored numbers that mean no value, such as -9999 0x8000.' },
    intervalMs: { kind: 'number', unit: 'ms', min: 20, max: 10_000, default: 200, help: 'Time from query to query.' },
    replyMs: {
      kind: 'number',
      unit: 'ms',
      min: 50,
      max: 30_000,
      default: 1000,
      help: 'How long to wait for a reply before the query is sent again.',
    },
    gapMs: {
      kind: 'number',
      unit: 'ms',
      min: 2,
      max: 1000,
      default: 20,
      help: 'Silence before the next query: 3.5 characters at least, which is 4 ms at 9600 baud and 32 ms at 1200.',
    },
  },
  channels: [
    { name: 'pressure', quantity: 'pressure', unit: 'Pa' },
    { name: 'resistance', quantity: 'resistance', unit: 'ohm' },
  ],
  hearsSent: true,
  wire: (options) => ({
    framing: { kind: 'bytes' },
    start: null,
    poll: [
      {
        bytes: requestOf(options) ?? loneRequest(options),
        periodMs: Number(options['intervalMs']),
        replyMs: Number(options['replyMs']),
        quietMs: Number(options['gapMs']),
      },
    ],
    maxFrameBytes,
  }),
  decode: (memory, chunk, { options, role, way }) => {
    if (way === 'sent') return { readings: [], faults: [], memory: { request: chunk, rest: '', foreign: false } }
    let { request, rest, foreign } = memory ?? { request: null, rest: '', foreign: false }
    const readings: Reading[] = []
    const faults: Fault[] = []
    const bytes = rest + chunk
    let at = 0
    // What comes unasked is not ours: another master's answer may look like one.
    while (request !== null && at < bytes.length) {
      const found = findAnswer(bytes.slice(at, at + maxFrameBytes), request)
      if (found.kind === 'unfinished') break
      if (found.kind === 'foreign') {
        if (!foreign)
          faults.push(faultOf('unreadable', 'no answer to the query: slave, function, length or CRC differ'))
        foreign = true
        at++
        continue
      }
      foreign = false
      at += found.frame.length
      if (found.kind === 'echo') continue
      request = null
      if (found.kind === 'exception')
        faults.push(faultOf('device-error', `the instrument refuses: ${exceptionText(found.code)}`))
      else {
        const read = readValues(found.data, role, options)
        if (Array.isArray(read)) readings.push(...read.map((value) => ({ ...value, frameBytes: found.frame.length })))
        else faults.push(read)
      }
    }
    rest = request === null ? '' : bytes.slice(at)
    return { readings, faults, memory: { request, rest, foreign } }
  },
}

const number = (options: Options, name: string) => Number(options[name])
const typeOf = (options: Options) => options['type'] as RegisterType

/** All registers that are read, in one query: so decimals and value belong together. */
function requestOf(options: Options): string | null {
  const more = registersOf(typeOf(options)) - 1
  const values = ['register', 'resistanceRegister'].map((name) => number(options, name)).filter((first) => first >= 0)
  const decimals = number(options, 'decimalsRegister')
  const registers = [...values.flatMap((first) => [first, first + more]), ...(decimals < 0 ? [] : [decimals])]
  return readRequest(number(options, 'slave'), number(options, 'function'), registers)
}

/** Asks for something where the registers do not fit into one query: `mistakeIn` then says so on each answer. */
const loneRequest = (options: Options) =>
  readRequest(number(options, 'slave'), number(options, 'function'), [number(options, 'register')])!

function readValues(data: string, role: Role, options: Options): Measured[] | Fault {
  const wrong = mistakeIn(options, role)
  if (wrong !== null) return faultOf('unreadable', wrong)
  const decimals = decimalsIn(data, options)
  if (decimals === null) return faultOf('unreadable', 'the register of decimals holds no number from 0 to 9')
  const step = (name: string) => number(options, name) / 10 ** decimals
  const value = (name: string, quantity: Quantity, digit: number) =>
    storedValue(dataAt(data, name, options), quantity, digit, options)
  if (role === 'manometer') return [value('register', 'pressure', step('scale'))]
  if (role === 'meter') return [value('register', 'resistance', step('scale'))]
  return [
    value('register', 'pressure', step('scale')),
    value('resistanceRegister', 'resistance', step('resistanceScale')),
  ]
}

/** What of the options cannot be meant, which their own checks do not see. */
function mistakeIn(options: Options, role: Role): string | null {
  if (requestOf(options) === null) return 'the registers lie too far apart: one query reads 125, none beyond 65535'
  if (role === 'bridge' && number(options, 'resistanceRegister') < 0) return 'a bridge needs "resistanceRegister"'
  for (const name of ['overRange', 'noNumber'])
    for (const text of wordsOf(options, name))
      if (Number.isNaN(Number(text))) return `the option "${name}" holds "${text}", not a number`
  return null
}

const wordsOf = (options: Options, name: string) =>
  String(options[name])
    .split(/[\s,;]+/)
    .filter((text) => text !== '')

function dataAt(data: string, name: string, options: Options, registers = registersOf(typeOf(options))): string {
  const firsts = ['register', 'resistanceRegister', 'decimalsRegister'].map((each) => number(options, each))
  const from = 2 * (number(options, name) - Math.min(...firsts.filter((first) => first >= 0)))
  return data.slice(from, from + 2 * registers)
}

/** Decimals of whole numbers; null where their register holds no such count. */
function decimalsIn(data: string, options: Options): number | null {
  if (number(options, 'decimalsRegister') < 0 || typeOf(options) === 'float32') return 0
  const { value } = registerNumber(
    dataAt(data, 'decimalsRegister', options, 1),
    'uint16',
    options['order'] as ByteOrder,
  )
  return value <= 9 ? value : null
}

function storedValue(bytes: string, quantity: Quantity, digit: number, options: Options): Measured {
  const unit = knownUnit(quantity === 'pressure' ? String(options['unit']) : 'ohm')!
  const { value, bits } = registerNumber(bytes, typeOf(options), options['order'] as ByteOrder)
  // 65535 and 0xFFFF mean the bits of an int16 that holds -1; of a float32 only a hexadecimal number means the bits.
  const isFloat = typeOf(options) === 'float32'
  const is = (text: string) =>
    (isFloat ? Math.fround(Number(text)) : Number(text)) === value ||
    (Number(text) === bits && (!isFloat || /^0x/i.test(text)))
  if (wordsOf(options, 'noNumber').some(is)) return measured(Number.NaN, null, unit)
  if (wordsOf(options, 'overRange').some(is))
    return measured(value < 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY, null, unit)
  return measured(value * digit, isFloat ? null : digit, unit)
}
