// The fields asked before each test of a lot: the serial number each time, the surroundings once.

import type { Conditions } from '../../core/model/conditions.ts'
import type { FormRow, Mistake, Values } from './form-spec.ts'

/** Above this the recording's first line would grow without end. */
const longestSerial = 100
/** A workshop's temperatures; what is outside is a slip of the finger. */
const temperaturesC = { least: -40, most: 85 } as const
/** Ten years. */
const mostRestH = 87_600

/** The serial number comes first: a scanner types it, and its Enter starts the test. */
export const lotRows: readonly FormRow[] = [
  {
    label: 'serial number',
    fields: [
      {
        name: 'serial',
        label: '',
        kind: 'text',
        help: 'Typed, pasted or scanned; Enter starts the test. Empty where the part has none.',
        width: 40,
      },
    ],
  },
  {
    label: 'temperature',
    fields: [
      {
        name: 'temperatureC',
        label: '',
        kind: 'number',
        unit: '°C',
        help: 'Of the room and the part; empty: not stated.',
        width: 8,
      },
    ],
  },
  {
    label: 'attitude',
    fields: [
      {
        name: 'attitude',
        label: '',
        kind: 'text',
        help: 'How the part lies or stands, such as ports down; empty: not stated.',
        width: 24,
      },
    ],
  },
  {
    label: 'at rest',
    fields: [
      {
        name: 'restH',
        label: '',
        kind: 'number',
        unit: 'h',
        help: 'How long it has not been actuated, in hours; empty: not stated.',
        width: 8,
      },
    ],
  },
]

export const emptyLot: Values = { serial: '', temperatureC: '', attitude: '', restH: '' }

/** Serial number (null: none) and conditions that the values state. */
export function lotOf(values: Values): { serial: string | null; conditions: Conditions } {
  const number = (name: string) => (stated(values, name) === '' ? null : Number(stated(values, name)))
  const restH = number('restH')
  return {
    serial: stated(values, 'serial') || null,
    conditions: {
      temperatureC: number('temperatureC'),
      attitude: stated(values, 'attitude') || null,
      restS: restH === null ? null : restH * 3600,
    },
  }
}

/** What is wrong with the values. */
export function lotMistakes(values: Values): Mistake[] {
  const mistakes: Mistake[] = []
  const { length } = stated(values, 'serial')
  if (length > longestSerial)
    mistakes.push({
      field: 'serial',
      text: `The serial number has ${length} characters; it may have ${longestSerial}.`,
    })
  const range = (field: string, what: string, unit: string, least: number, most: number) => {
    const text = stated(values, field)
    if (text === '' || (Number(text) >= least && Number(text) <= most)) return
    const point = /^[+-]?\d*,\d+$/.test(text) ? `, with a point: ${text.replace(',', '.')}` : ''
    const range = `a number from ${least} to ${most} ${unit}${point}`
    mistakes.push({ field, text: `${what} is ${text} ${unit}; it must be ${range}.` })
  }
  range('temperatureC', 'The temperature', '°C', temperaturesC.least, temperaturesC.most)
  range('restH', 'The time at rest', 'h', 0, mostRestH)
  return mistakes
}

const stated = (values: Values, name: string) => (values[name] ?? '').trim()
