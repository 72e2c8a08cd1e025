// Replies of sign, value, unit and flags into pressures and resistances; a flag that is not known forbids the reading.
import type { Fault } from '../src/core/model/reading.ts'
import { type KnownUnit, knownUnit } from '../src/core/model/units.ts'
import type { Driver, Options, Role } from '../src/driver.ts'
import { endOf, isEcho, queryOptions, queryWire } from '../src/protocol/line-query.ts'
import { lineUnit } from '../src/protocol/line-values.ts'
import { type LineMemory, readLines } from '../src/protocol/lines.ts'
import { faultOf, fitting, type Measured, measured } from '../src/protocol/measured.ts'
import { digitSize, parseNumber } from '../src/protocol/number-forms.ts'
import { decodeSymbols } from '../src/protocol/symbols.ts'

const maxFrameBytes = 128

const flags = (kind: string, usual: string) =>
  ({ kind: 'text', default: usual, help: `Flags ${kind}, with spaces between them; letters count as large.` }) as const

export const driver: Driver<LineMemory> = {
  id: 'sign-value-flags',
  title: 'Asked at a fixed interval: sign, value, unit, flags',
  serial: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
  options: {
    ...queryOptions('D', 'cr'),
    unit: lineUnit,
    heldFlags: flags('of a display that does not follow', 'H HOLD MIN MAX AVG REL PEAK'),
    batteryFlags: flags('of a low battery, with which nothing is read', 'B BAT LB LOBAT'),
    overFlags: flags('of over-range', 'O OL OVER'),
    plainFlags: flags('that change nothing', 'A AUTO OK STABLE 0'),
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

/** Sign and value, joined or parted, then what follows. Only a comma behind a space parts: before a digit it is decimal. */
const reply = /^([+-]?)[\s;/]*(?:,\s*)?(\d+(?:[.,]\d+)?|\.\d+|-{2,}|[O0]\.?L)(?![\d.])(.*)$/i

function readReply(text: string, role: Role, options: Options): Measured[] | Fault {
  const [, sign = '', number = '', rest = ''] = reply.exec(text) ?? []
  if (number === '') return faultOf('unreadable', `no sign and value: "${text}"`)
  const words = rest.split(/[\s,;/]+/).filter((word) => word !== '')
  const { unit: stated, count } = unitAtStart(words)
  let over = parseNumber(number) === null
  for (const flag of words.slice(count)) {
    const is = (name: string) => String(options[name]).toUpperCase().split(/\s+/).includes(flag.toUpperCase())
    if (is('heldFlags')) return faultOf('held', `the display is on ${flag}: "${text}"`)
    if (is('batteryFlags')) return faultOf('low-battery', `the battery is low: "${text}"`)
    if (is('overFlags')) over = true
    else if (!is('plainFlags')) return faultOf('unreadable', `no meaning known for the flag "${flag}": "${text}"`)
  }
  const unit = stated ?? unitOfOption(String(options['unit']), role)
  if (unit === null) return faultOf('no-unit', `"${text}" has no unit: set the option "unit" in the rig file`)
  const size = over ? Number.POSITIVE_INFINITY : parseNumber(number)!
  return fitting(measured(sign === '-' ? -size : size, over ? null : digitSize(number), unit), role)
}

/** The longest unit that the first words make together (`in H2O`), and how many they are. */
function unitAtStart(words: readonly string[]): { unit: KnownUnit | null; count: number } {
  for (const count of [3, 2, 1]) {
    const unit = words.length < count ? null : knownUnit(words.slice(0, count).join(' '))
    if (unit !== null) return { unit, count }
  }
  return { unit: null, count: 0 }
}

function unitOfOption(option: string, role: Role): KnownUnit | null {
  if (option !== 'auto') return knownUnit(option)
  return role === 'meter' ? knownUnit('ohm') : null
}
