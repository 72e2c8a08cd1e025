// Lines that manometers and meters send by themselves. Line shapes: common practice, no source.
import type { Transcript } from '../../src/contract/transcript.ts'
import { pressure, resistance } from './transcript.ts'

const infinity = Number.POSITIVE_INFINITY
/** Pascal per conventional inch of water, exact: NIST SP 811 (2008), B.8. */
const inH2O = 249.08891

export const transcripts: readonly Transcript[] = [
  {
    name: 'a manometer in inches of water, its first line cut by the opening of the port',
    role: 'manometer',
    bytes: '25 inH2O\r\n-0.250 inH2O\r\n+0.001 inH2O\r\n-0.000 inH2O\r\n',
    readings: [
      pressure(-0.25 * inH2O, 'inH2O', 0.001 * inH2O, 14),
      pressure(0.001 * inH2O, 'inH2O', 0.001 * inH2O, 14),
      pressure(0, 'inH2O', 0.001 * inH2O, 14),
    ],
    faults: [],
  },
  {
    name: 'bare numbers with the unit given by option, ended by CR',
    role: 'manometer',
    options: { unit: 'inH2O', end: 'cr' },
    bytes: '\r-0.250\r  0.10\r\r',
    readings: [pressure(-0.25 * inH2O, 'inH2O', 0.001 * inH2O, 7), pressure(0.1 * inH2O, 'inH2O', 0.01 * inH2O, 7)],
    faults: [],
  },
  {
    name: 'the unit in the line wins over the option, and over-range stays in the unit of the lines before',
    role: 'manometer',
    options: { unit: 'inH2O' },
    bytes: '\n-62,3 Pa\n-OL\n',
    readings: [pressure(-62.3, 'Pa', 0.1, 9), pressure(-infinity, 'Pa', null, 4)],
    faults: [],
  },
  {
    name: 'a decimal comma, a number joined to its unit, labels, a time, a counter',
    role: 'manometer',
    bytes: '\n- 0,62 hPa\n0.62hPa\nP1 -0.25 kPa\nCH1:-0.25 kPa\n2024-05-01 10:20:31; 17; dP=1.5E1 Pa\n1: 3 Pa\n',
    readings: [
      pressure(-62, 'hPa', 1, 11),
      pressure(62, 'hPa', 1, 8),
      pressure(-250, 'kPa', 10, 13),
      pressure(-250, 'kPa', 10, 14),
      pressure(15, 'Pa', 1, 37),
      pressure(3, 'Pa', 1, 8),
    ],
    faults: [],
  },
  {
    name: 'flags that forbid the use of a reading',
    role: 'manometer',
    bytes:
      '\n-0.25 kPa HOLD\nMAX -0.25 kPa\n-0.25 kPa min\nREL 0.25 kPa\n-0.25 kPa AVG\n-0.25 kPa LOBAT\n-0.25 kPa AUTO\n',
    readings: [pressure(-250, 'kPa', 10, 15)],
    faults: [
      ...['HOLD', 'MAX', 'MIN', 'REL', 'AVG'].map((text) => ({ code: 'held' as const, text })),
      { code: 'low-battery', text: 'the battery is low' },
    ],
  },
  {
    name: 'a pressure without a unit is refused where no option states one',
    role: 'manometer',
    bytes: '\n-0.250\nOL\n',
    readings: [],
    faults: [
      { code: 'no-unit', text: '-0.25' },
      { code: 'no-unit', text: 'Infinity' },
    ],
  },
  {
    name: 'a meter in all its ranges and signs, open and over-range',
    role: 'meter',
    bytes:
      '\n0.31\n0.31 ohm\nR=0.31 Ohm\n4.70 kOhm\n1.2MOhm\n0.31 \xea\n0.31 \xe2\x84\xa6\n12 k\xce\xa9\nOL MOhm\nOpen\n',
    readings: [
      resistance(0.31, 0.01, 5),
      resistance(0.31, 0.01, 9),
      resistance(0.31, 0.01, 11),
      resistance(4700, 10, 10),
      resistance(1.2e6, 1e5, 8),
      resistance(0.31, 0.01, 7),
      resistance(0.31, 0.01, 9),
      resistance(12_000, 1000, 7),
      resistance(infinity, null, 8),
      resistance(infinity, null, 5),
    ],
    faults: [],
  },
  {
    name: 'both instruments exchanged',
    role: 'meter',
    bytes: '\n-0.250 inH2O\n',
    readings: [],
    faults: [{ code: 'wrong-quantity', text: 'resistance expected, pressure came' }],
  },
  {
    name: 'one board that sends both quantities in a line',
    role: 'bridge',
    bytes: '\nP=-0.250 inH2O R=0.31 ohm\n0.0 Pa;OL ohm\n12.5 Pa\n',
    readings: [
      pressure(-0.25 * inH2O, 'inH2O', 0.001 * inH2O, 26),
      resistance(0.31, 0.01, 26),
      pressure(0, 'Pa', 0.1, 14),
      resistance(infinity, null, 14),
      pressure(12.5, 'Pa', 0.1, 8),
    ],
    faults: [],
  },
  {
    name: 'lines that are no reading: noise, an escape sequence, an unknown unit or flag, an error, a line too long',
    role: 'manometer',
    bytes: `\n\x80\xff\x00\n\x1b[2J-0.25 Pa\n1.5 bar\n-0.25 Pa XQ\nERR 4\nready\n${'9'.repeat(300)}\n-0.25 Pa\n`,
    readings: [pressure(-0.25, 'Pa', 0.01, 9)],
    faults: [
      { code: 'unreadable', text: 'bytes that are not text: "..."' },
      { code: 'unreadable', text: 'bytes that are not text: ".[2J-0.25 Pa"' },
      { code: 'unreadable', text: '"bar" is not a known unit' },
      { code: 'unreadable', text: 'no meaning known for "XQ"' },
      { code: 'device-error', text: 'ERR 4' },
      { code: 'unreadable', text: 'no number' },
      { code: 'overlong', text: 'no line end in 256 bytes' },
    ],
  },
]
