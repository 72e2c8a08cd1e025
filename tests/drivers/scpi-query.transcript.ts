// Replies of instruments that are asked. Number forms: IEEE 488.2, 8.7.2 to 8.7.4; special values: SCPI-1999, 7.2.1.
import type { Transcript } from '../../src/contract/transcript.ts'
import { pressure, resistance } from './transcript.ts'

const infinity = Number.POSITIVE_INFINITY

export const transcripts: readonly Transcript[] = [
  {
    name: 'a meter, its first reply left over from before, then closed, open and without a number',
    role: 'meter',
    bytes: '0E-01\r\n+3.10000000E-01\r\n+9.90000000E+37\r\n+9.91E37\r\n4.7\r\n146\r\n',
    readings: [
      resistance(0.31, 1e-9, 17),
      resistance(infinity, null, 17),
      resistance(Number.NaN, null, 10),
      resistance(4.7, 0.1, 5),
      resistance(146, 1, 5),
    ],
    faults: [],
  },
  {
    name: 'a manometer, in pascal where nothing else is said, over-range on both sides',
    role: 'manometer',
    bytes: '\n-6.23E+1\n-9.9E37\n9.9E37\n',
    readings: [pressure(-62.3, 'Pa', 0.1, 9), pressure(-infinity, 'Pa', null, 8), pressure(infinity, 'Pa', null, 7)],
    faults: [],
  },
  {
    name: 'a unit by option, and a unit behind the number that wins',
    role: 'manometer',
    options: { unit: 'mbar' },
    bytes: '\n0.623\n0.623 KPA\n',
    readings: [pressure(62.3, 'mbar', 0.1, 6), pressure(623, 'kPa', 1, 10)],
    faults: [],
  },
  {
    name: 'an echo of what was sent, and empty lines, are passed over',
    role: 'meter',
    options: { command: 'MEAS:RES?', start: 'SYST:REM', terminator: 'cr' },
    bytes: '\rSYST:REM\rMEAS:RES?\r+0.31\r\r',
    readings: [resistance(0.31, 0.01, 6)],
    faults: [],
  },
  {
    name: 'one item of a list',
    role: 'meter',
    options: { item: 3 },
    bytes: '\n1,2;0.31 OHM,4\n1,2\n',
    readings: [resistance(0.31, 0.01, 15)],
    faults: [{ code: 'unreadable', text: 'item 3 wanted, 2 came: "1,2"' }],
  },
  {
    name: 'a bridge with its two items, and with the two exchanged',
    role: 'bridge',
    bytes: '\n-62.3,+9.9E37\n-62.3 PA;4.7 OHM\n4.7 OHM;-62.3 PA\n',
    readings: [
      pressure(-62.3, 'Pa', 0.1, 14),
      resistance(infinity, null, 14),
      pressure(-62.3, 'Pa', 0.1, 17),
      resistance(4.7, 0.1, 17),
    ],
    faults: [{ code: 'wrong-quantity', text: 'pressure expected, resistance came' }],
  },
  {
    name: 'a negative over-range resistance is open, never closed',
    role: 'meter',
    bytes: '\n-9.9E37\n-INF\n',
    readings: [resistance(infinity, null, 8), resistance(infinity, null, 5)],
    faults: [],
  },
  {
    name: 'error replies, noise, an escape sequence, an unknown unit, a reply too long',
    role: 'meter',
    bytes: `\n-113,"Undefined header"\nERROR 12\n\x00\xff\n\x1b[2J1.0\n1.0 V\n1.0 PA\n${'1'.repeat(600)}\n0.31\n`,
    readings: [resistance(0.31, 0.01, 5)],
    faults: [
      { code: 'device-error', text: '-113,"Undefined header"' },
      { code: 'device-error', text: 'ERROR 12' },
      { code: 'unreadable', text: 'no number: ".."' },
      { code: 'unreadable', text: 'no number: ".[2J1.0"' },
      { code: 'unreadable', text: '"V" is not a known unit' },
      { code: 'wrong-quantity', text: 'resistance expected, pressure came' },
      { code: 'overlong', text: 'no line end in 512 bytes' },
    ],
  },
]
