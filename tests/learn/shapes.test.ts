// Made-up line shapes: which driver and options are found in what they send, once the display was asked about at two points.
import { describe, expect, test } from 'vitest'
import type { Options, Role } from '../../src/driver.ts'
import { findCandidates, setOptions } from '../../src/learn/candidates.ts'
import type { Piece } from '../../src/learn/heard.ts'
import { heldAgainst } from '../../src/learn/held-against-display.ts'
import { readShown } from '../../src/learn/shown.ts'
import { loadDrivers } from '../../src/load-drivers.ts'
import { withCrc } from '../../src/protocol/modbus.ts'
import { bytesOf } from '../harness/bytes-of.ts'
import { asked, plainSetting, unasked } from './shapes.ts'

const drivers = [...(await loadDrivers()).values()]

type Point = { pieces: Piece[]; shown: string }
type Shape = {
  name: string
  points: Point[]
  found: { driver: string; role: Role; options?: Options; values: number[] }
}

const inH2O = 9.80665 * 25.4
const lines = (line: (i: number) => string) => unasked(Array.from({ length: 10 }, (_, i) => line(i)))
const steady = (line: string, shown: string): Point => ({ pieces: lines(() => line), shown })
const frame = (text: string) => `\x024${text}\r`
const segments = (text: string) => bytesOf(text)
const word = (value: number) => String.fromCharCode((value >> 8) & 255, value & 255)
/** An instrument with these holding registers, asked for each of the first ones alone and in twos. */
function registers(words: readonly number[]): Piece[] {
  const ask = (first: number, count: number) => {
    const query = withCrc(`\x01\x03${word(first)}${word(count)}`)
    const data = words
      .slice(first, first + count)
      .map(word)
      .join('')
    return asked(
      query,
      first + count <= words.length
        ? withCrc(`\x01\x03${String.fromCharCode(data.length)}${data}`)
        : withCrc('\x01\x83\x02'),
    )
  }
  return words.flatMap((_, first) => [...ask(first, 1), ...ask(first, 2)])
}
function float(value: number): number[] {
  const view = new DataView(new ArrayBuffer(4))
  view.setFloat32(0, value)
  return [view.getUint16(0), view.getUint16(2)]
}

const shapes: Shape[] = [
  {
    name: 'sign, number and unit',
    points: [steady('0.000 inH2O\r\n', '0.000 inH2O'), steady('-0.251 inH2O\r\n', '-0.251 inH2O')],
    found: { driver: 'ascii-line', role: 'manometer', values: [0, -0.251 * inH2O] },
  },
  {
    name: 'a bare number, its unit from the display alone',
    points: [steady('0.02\r\n', '0.02 mbar'), steady('-1.31\r\n', '-1.31 mbar')],
    found: { driver: 'ascii-line', role: 'manometer', options: { unit: 'mbar' }, values: [2, -131] },
  },
  {
    name: 'a bare number in another unit than the display shows',
    points: [steady('0.0\r\n', '0.000 inH2O'), steady('62.3\r\n', '0.250 inH2O')],
    found: { driver: 'ascii-line', role: 'manometer', options: { unit: 'Pa' }, values: [0, 62.3] },
  },
  {
    name: 'a decimal comma',
    points: [steady('+0,01 hPa\r\n', '0,01 hPa'), steady('-0,62 hPa\r\n', '-0,62 hPa')],
    found: { driver: 'ascii-line', role: 'manometer', values: [1, -62] },
  },
  {
    name: 'an exponent',
    points: [steady('+1.0000E-01 Pa\n', '0.1 Pa'), steady('-6.2300E+01 Pa\n', '-62.3 Pa')],
    found: { driver: 'ascii-line', role: 'manometer', values: [0.1, -62.3] },
  },
  {
    name: 'status letters behind the unit',
    points: [steady('P=  0.1 Pa STABLE\r\n', '0.1 Pa'), steady('P=-62.3 Pa AUTO\r\n', '-62.3 Pa')],
    found: { driver: 'ascii-line', role: 'manometer', values: [0.1, -62.3] },
  },
  {
    name: 'lines that end in CR alone',
    points: [steady('0.0 Pa\r', '0.0 Pa'), steady('-62.3 Pa\r', '-62.3 Pa')],
    found: { driver: 'ascii-line', role: 'manometer', options: { end: 'cr' }, values: [0, -62.3] },
  },
  {
    name: 'two displays in turn, the other a temperature',
    points: [
      { pieces: lines((i) => (i % 2 ? 'T 21.3 C\r\n' : 'P 0.0 Pa\r\n')), shown: '0.0 Pa' },
      { pieces: lines((i) => (i % 2 ? 'T 21.4 C\r\n' : 'P -62.3 Pa\r\n')), shown: '-62.3 Pa' },
    ],
    found: { driver: 'ascii-line', role: 'manometer', options: { only: 'P' }, values: [0, -62.3] },
  },
  {
    name: 'two displays in turn, both a pressure',
    points: [
      { pieces: lines((i) => (i % 2 ? 'B 35.0 Pa\r\n' : 'A 0.0 Pa\r\n')), shown: '0.0 Pa' },
      { pieces: lines((i) => (i % 2 ? 'B 35.1 Pa\r\n' : 'A -62.3 Pa\r\n')), shown: '-62.3 Pa' },
    ],
    found: { driver: 'ascii-line', role: 'manometer', options: { only: 'A' }, values: [0, -62.3] },
  },
  {
    name: 'columns of a logger, the pressure in the third',
    points: [
      { pieces: lines((i) => `${i},21.31,0.2,47\r\n`), shown: '0.2 Pa' },
      { pieces: lines((i) => `${i + 90},21.32,-62.3,47\r\n`), shown: '-62.3 Pa' },
    ],
    found: { driver: 'csv-line', role: 'manometer', options: { column: 3, pressureUnit: 'Pa' }, values: [0.2, -62.3] },
  },
  {
    name: 'columns parted by semicolons, with a decimal comma',
    points: [
      { pieces: lines(() => '12:01:07;0,002;21,3\r\n'), shown: '0,002 inH2O' },
      { pieces: lines(() => '12:01:17;-0,251;21,4\r\n'), shown: '-0,251 inH2O' },
    ],
    found: {
      driver: 'csv-line',
      role: 'manometer',
      options: { column: 2, separator: 'semicolon', pressureUnit: 'inH2O' },
      values: [0.002 * inH2O, -0.251 * inH2O],
    },
  },
  {
    name: 'frames of sixteen characters with a unit code of their own',
    points: [steady(frame('1780200000002'), '0.02 mbar'), steady(frame('1781200000062'), '-0.62 mbar')],
    found: {
      driver: 'frame-16',
      role: 'manometer',
      options: { units: '38=ohm 39=kOhm 40=MOhm 78=mbar' },
      values: [2, -62],
    },
  },
  {
    name: 'frames of sixteen characters of two displays',
    points: [
      { pieces: lines((i) => (i % 2 ? frame('2010100000231') : frame('1780200000002'))), shown: '0.02 mbar' },
      { pieces: lines((i) => (i % 2 ? frame('2010100000231') : frame('1781200000062'))), shown: '-0.62 mbar' },
    ],
    found: {
      driver: 'frame-16',
      role: 'manometer',
      options: { units: '38=ohm 39=kOhm 40=MOhm 78=mbar' },
      values: [2, -62],
    },
  },
  {
    name: 'answers to a query, with the exponent of IEEE 488.2',
    points: [
      { pieces: asked('READ?\r\n', '+1.00000000E-01\r\n'), shown: '0.1 Pa' },
      { pieces: asked('READ?\r\n', '-6.23000000E+01\r\n'), shown: '-62.3 Pa' },
    ],
    found: { driver: 'scpi-query', role: 'manometer', options: { terminator: 'crlf' }, values: [0.1, -62.3] },
  },
  {
    name: 'a meter that echoes each query',
    points: [
      { pieces: asked('READ?\n', 'READ?\r\n+9.90000000E+37\r\n'), shown: 'OL' },
      { pieces: asked('READ?\n', 'READ?\r\n+3.10000000E-01\r\n'), shown: '0.31 ohm' },
    ],
    found: { driver: 'scpi-query', role: 'meter', values: [Number.POSITIVE_INFINITY, 0.31] },
  },
  {
    name: 'answers that are a list, the pressure second',
    points: [
      { pieces: asked('MEAS?\n', '21.3;0.1\n'), shown: '0.1 Pa' },
      { pieces: asked('MEAS?\n', '21.3;-62.3\n'), shown: '-62.3 Pa' },
    ],
    found: { driver: 'scpi-query', role: 'manometer', options: { command: 'MEAS?', item: 2 }, values: [0.1, -62.3] },
  },
  {
    name: 'sign, value, unit and flags in answer to a letter',
    points: [
      { pieces: asked('D\r', '+ 0.000 inH2O A\r'), shown: '0.000 inH2O' },
      { pieces: asked('D\r', '- 0.251 inH2O A\r'), shown: '-0.251 inH2O' },
    ],
    found: { driver: 'sign-value-flags', role: 'manometer', values: [0, -0.251 * inH2O] },
  },
  {
    name: 'registers: whole tenths of a pascal in register 4',
    points: [
      { pieces: registers([7, 100, 3, 0, 2, 213]), shown: '0.2 Pa' },
      { pieces: registers([7, 100, 3, 0, -623, 213]), shown: '-62.3 Pa' },
    ],
    found: { driver: 'modbus-rtu', role: 'manometer', options: { register: 4, scale: 0.1 }, values: [0.2, -62.3] },
  },
  {
    name: 'registers: a floating number in millibar, its low word first',
    points: [
      { pieces: registers([1, 2, ...float(0.02).toReversed(), 9]), shown: '0.02 mbar' },
      { pieces: registers([1, 2, ...float(-0.62).toReversed(), 9]), shown: '-0.62 mbar' },
      { pieces: registers([1, 2, ...float(-4.37).toReversed(), 9]), shown: '-4.37 mbar' },
    ],
    found: {
      driver: 'modbus-rtu',
      role: 'manometer',
      options: { register: 2, type: 'float32', order: 'cdab', unit: 'mbar' },
      values: [2, -62, -437],
    },
  },
  {
    name: 'blocks sent twice for each conversion',
    points: [
      {
        pieces: unasked([
          'x OL\r\n',
          ...['OL MOhm', 'OL MOhm', 'OL MOhm'].flatMap((line) => [`${line}\r\n`, `${line}\r\n`]),
        ]),
        shown: 'OL',
      },
      {
        pieces: unasked([
          'x OL\r\n',
          ...['0.31 ohm', '0.30 ohm', '0.32 ohm'].flatMap((line) => [`${line}\r\n`, `${line}\r\n`]),
        ]),
        shown: '0.31 ohm',
      },
    ],
    found: { driver: 'block-pair', role: 'meter', values: [Number.POSITIVE_INFINITY, 0.31] },
  },
  {
    name: 'frames that mirror the segments of a display',
    points: [
      { pieces: lines(() => segments('17 20 30 47 5D 66 78 80 90 A0 B2 C4 D0 E0')), shown: 'OL' },
      { pieces: lines(() => segments('17 27 3D 47 5D 67 7D 89 9F A0 B0 C4 D0 E0')), shown: '0.3 ohm' },
    ],
    found: { driver: 'segment-frame', role: 'meter', values: [Number.POSITIVE_INFINITY, 0.3] },
  },
  {
    name: 'the words of a continuity tester',
    points: [steady('Open\r\n', 'open'), steady('Short\r\n', 'short')],
    found: { driver: 'continuity-text', role: 'meter', values: [0, 1] },
  },
  {
    name: 'a meter that changes its range, in a unit with a prefix',
    points: [steady('O.L MOhm\r\n', 'OL'), steady('0.0003 kOhm\r\n', '0.3 ohm')],
    found: { driver: 'ascii-line', role: 'meter', values: [Number.POSITIVE_INFINITY, 0.3] },
  },
  {
    name: 'a meter that sends bare numbers in kilo-ohm',
    points: [steady('OL\r\n', 'OL'), steady('0.0031\r\n', '3.1 ohm')],
    found: { driver: 'ascii-line', role: 'meter', options: { unit: 'kOhm' }, values: [Number.POSITIVE_INFINITY, 3.1] },
  },
]

/** What is proposed once every point was shown, the candidates taken from what was heard at the first. */
function learn({ points }: Shape, role: Role) {
  const { candidates } = findCandidates(drivers, { settings: plainSetting, pieces: points[0]!.pieces })
  return heldAgainst(
    candidates.filter((candidate) => candidate.role === role),
    points.map(({ pieces, shown }) => ({ pieces, shown: readShown(shown)! })),
  )
}

describe('after two looks at the display one way to read the line is left', () => {
  test.each(shapes)('$name', (shape) => {
    const { agreeing } = learn(shape, shape.found.role)
    expect(
      agreeing.map(({ candidate, readings }) => ({
        driver: candidate.driver.id,
        role: candidate.role,
        options: setOptions(candidate),
        values: readings.map(({ value }) => Number(value.toPrecision(6))),
      })),
    ).toEqual([
      { options: {}, ...shape.found, values: shape.found.values.map((value) => Number(value.toPrecision(6))) },
    ])
  })
})
