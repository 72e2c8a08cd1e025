// What a driver's decode gave back into what is wrong with it, if anything.

import type { FaultCode, Quantity } from '../model/reading.ts'
import { printable } from '../text/printable.ts'

const quantities: Readonly<Record<Quantity, true>> = { pressure: true, resistance: true, contact: true }
const faultCodes: Readonly<Record<FaultCode, true>> = {
  unreadable: true,
  held: true,
  'low-battery': true,
  'no-unit': true,
  'wrong-quantity': true,
  overlong: true,
  'device-error': true,
}

/** The first thing wrong with `value` as the result of a decode, as `field is VALUE; it must be …`; null where it is one. */
export function decodedFault(value: unknown): string | null {
  if (!isObject(value)) return `the result is ${shown(value)}; it must be an object of readings, faults and memory`
  const { readings, faults } = value
  if (!Array.isArray(readings)) return `readings is ${shown(readings)}; it must be a list`
  if (!Array.isArray(faults)) return `faults is ${shown(faults)}; it must be a list`
  return firstFault('readings', readings, readingFault) ?? firstFault('faults', faults, faultFault)
}

function firstFault(list: string, items: readonly unknown[], find: (item: Fields) => string | null): string | null {
  for (let index = 0; index < items.length; index++) {
    const item = items[index]
    const wrong = isObject(item) ? find(item) : ` is ${shown(item)}; it must be an object`
    if (wrong !== null) return `${list}[${index}]${wrong}`
  }
  return null
}

function readingFault({ quantity, value, unit, digit, frameBytes, deviceUs }: Fields): string | null {
  if (!isKey(quantities, quantity)) return `.quantity is ${shown(quantity)}; it must be ${namesOf(quantities)}`
  if (typeof value !== 'number') return `.value is ${shown(value)}; it must be a number`
  if (quantity === 'contact' && !(value === 0 || value === 1 || Number.isNaN(value)))
    return `.value is ${shown(value)}; it must be 1 (closed), 0 (open) or NaN for a contact`
  if (typeof unit !== 'string') return `.unit is ${shown(unit)}; it must be a text`
  if (digit !== null && !(typeof digit === 'number' && digit > 0))
    return `.digit is ${shown(digit)}; it must be null or a number above 0`
  if (!(Number.isInteger(frameBytes) && Number(frameBytes) > 0))
    return `.frameBytes is ${shown(frameBytes)}; it must be a whole number above 0`
  if (deviceUs !== undefined && !Number.isFinite(deviceUs))
    return `.deviceUs is ${shown(deviceUs)}; it must be a number of microseconds, or left out`
  return null
}

function faultFault({ code, text }: Fields): string | null {
  if (!isKey(faultCodes, code)) return `.code is ${shown(code)}; it must be ${namesOf(faultCodes)}`
  return typeof text === 'string' ? null : `.text is ${shown(text)}; it must be a text`
}

type Fields = Readonly<Record<string, unknown>>

const isObject = (value: unknown): value is Fields => typeof value === 'object' && value !== null
const isKey = (table: object, value: unknown) => typeof value === 'string' && Object.hasOwn(table, value)
const namesOf = (table: object) => Object.keys(table).join(' or ')

function shown(value: unknown): string {
  if (typeof value === 'string') return `"${printable(value, 20)}"`
  if (Array.isArray(value)) return 'a list'
  return isObject(value) || typeof value === 'function' || typeof value === 'symbol'
    ? `of the kind ${typeof value}`
    : String(value)
}
