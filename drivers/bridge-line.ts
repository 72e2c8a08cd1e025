// Lines of a board that reads pressure and contacts at once, with its own clock and a checksum, into pressures and states.
import type { Fault, Reading } from '../src/core/model/reading.ts'
import { knownUnit } from '../src/core/model/units.ts'
import type { Driver, Role } from '../src/driver.ts'
import { type LineMemory, overlong, splitLines } from '../src/protocol/lines.ts'
import { faultOf, type Measured, measured } from '../src/protocol/measured.ts'
import { crc16 } from '../src/protocol/modbus.ts'
import { digitSize, parseNumber } from '../src/protocol/number-forms.ts'

const maxFrameBytes = 96

/**
 * `MB1,123456789,-62.35,1,0*C96C` and a line end: the version; microseconds of the board's clock since it began, modulo
 * 2^32; pascals, or OL, -OL, NAN; one or two contacts, 1 closed, 0 open, x not read; four hexadecimal digits, the CRC-16
 * (A001 reflected, begun at FFFF) of all before the asterisk. The format is this project's own: DEVELOPERS.md.
 */
const wholeLine = /^(MB1,(\d{1,10}),([+-]?\d+(?:\.\d+)?|-?OL|NAN),([01x])(?:,([01x]))?)\*([0-9A-Fa-f]{4})$/
const clockUs = 2 ** 32
/** A step of more than half the clock's round is one backwards. */
const mostStepUs = clockUs / 2

/** `boardUs`: the board's time in the last line; `roundsUs`: the rounds of its clock before it. */
type Memory = { lines: LineMemory | null; boardUs: number | null; roundsUs: number }

export const driver: Driver<Memory> = {
  id: 'bridge-line',
  title: 'Lines of a board: its microseconds, pressure, contacts, checksum',
  serial: { baudRate: 115_200, dataBits: 8, parity: 'none', stopBits: 1 },
  options: {
    contact: { kind: 'choice', values: ['1', '2'], default: '1', help: 'Which of the contacts the pair is wired to.' },
  },
  channels: [
    { name: 'pressure', quantity: 'pressure', unit: 'Pa' },
    { name: 'contact', quantity: 'contact', unit: 'state' },
  ],
  wire: () => ({ framing: { kind: 'lines', end: 'lf' }, start: null, poll: [], maxFrameBytes }),
  decode: (memory, chunk, { options, role }) => {
    const { lines, memory: lineMemory } = splitLines(memory?.lines ?? null, chunk, 'lf', maxFrameBytes)
    let { boardUs, roundsUs } = memory ?? { boardUs: null, roundsUs: 0 }
    const readings: Reading[] = []
    const faults: Fault[] = []
    for (const line of lines) {
      const found = line === null ? overlong(maxFrameBytes) : readBoard(line.text, role, String(options['contact']))
      if ('code' in found) {
        faults.push(found)
        continue
      }
      const beforeUs = boardUs
      boardUs = found.boardUs
      const stepUs = beforeUs === null ? 1 : (boardUs - beforeUs + clockUs) % clockUs
      if (stepUs === 0 || stepUs > mostStepUs) {
        // Set back, it may have begun again: its lines after this one count from there.
        if (stepUs > 0) roundsUs = 0
        faults.push(faultOf('device-error', `the board's clock stood still or went back, to ${boardUs} us`))
        continue
      }
      if (beforeUs !== null && boardUs < beforeUs) roundsUs += clockUs
      const deviceUs = roundsUs + boardUs
      readings.push(...found.values.map((value) => ({ ...value, frameBytes: line!.frameBytes, deviceUs })))
    }
    return { readings, faults, memory: { lines: lineMemory, boardUs, roundsUs } }
  },
}

function readBoard(text: string, role: Role, contact: string): { boardUs: number; values: Measured[] } | Fault {
  const [, body = '', us = '', shown = '', first, second, crc = ''] = wholeLine.exec(text) ?? []
  if (body === '') return faultOf('unreadable', `no line of the board: "${text}"`)
  if (crc16(body) !== Number.parseInt(crc, 16)) return faultOf('unreadable', `the checksum differs: "${text}"`)
  const boardUs = Number(us)
  if (boardUs >= clockUs) return faultOf('unreadable', `a clock beyond 32 bits: "${text}"`)
  const state = contact === '1' ? first : second
  if (role !== 'manometer' && state === undefined) return faultOf('unreadable', `no contact ${contact}: "${text}"`)
  const pressure = measured(pressureOf(shown), digitSize(shown), knownUnit('Pa')!)
  const closed = state === 'x' ? Number.NaN : Number(state)
  const values: Measured[] = [pressure, { quantity: 'contact', value: closed, unit: 'state', digit: null }]
  return {
    boardUs,
    values: values.filter(({ quantity }) => role === 'bridge' || (quantity === 'pressure') === (role === 'manometer')),
  }
}

function pressureOf(shown: string): number {
  if (shown === 'NAN') return Number.NaN
  const over = shown.startsWith('-') ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY
  return parseNumber(shown) ?? over
}
