// Lines of data loggers. Quotes: RFC 4180; the rest common practice, no source.
import type { Transcript } from '../../src/contract/transcript.ts'
import { pressure, resistance } from './transcript.ts'

const infinity = Number.POSITIVE_INFINITY

export const transcripts: readonly Transcript[] = [
  {
    name: 'a logger with time and two channels, its heading among them',
    role: 'bridge',
    options: { pressureColumn: 3, resistanceColumn: 4, pressureUnit: 'Pa' },
    bytes:
      '.1,0.31\r\nno,time,dP,R\r\n1,2026-03-02 09:00:00,-62.5,0.31\r\n2,2026-03-02 09:00:01,-62.45,OL\r\n3,09:00:02,-1E+1,4.7 kOhm\r\n',
    readings: [
      pressure(-62.5, 'Pa', 0.1, 34),
      resistance(0.31, 0.01, 34),
      pressure(-62.45, 'Pa', 0.01, 33),
      resistance(infinity, null, 33),
      pressure(-10, 'Pa', 10, 27),
      resistance(4700, 100, 27),
    ],
    faults: [{ code: 'unreadable', text: 'no number' }],
  },
  {
    name: 'decimal commas between semicolons, the unit in the column winning',
    role: 'manometer',
    options: { column: 2, separator: 'semicolon', pressureUnit: 'mbar' },
    bytes: '\n1;-0,625;x\n2;0,3 kPa\n3; -0,625 ;\n',
    readings: [pressure(-62.5, 'mbar', 0.1, 11), pressure(300, 'kPa', 100, 10), pressure(-62.5, 'mbar', 0.1, 12)],
    faults: [],
  },
  {
    name: 'a decimal comma in quotes, between commas; tabs; ended by CR',
    role: 'meter',
    options: { column: 2, end: 'cr', resistanceUnit: 'kOhm' },
    bytes: '\r1,"0,31"\r"a ""b"", c", "4,7 ohm" ,9\r',
    readings: [resistance(310, 10, 9), resistance(4.7, 0.1, 27)],
    faults: [],
  },
  {
    name: 'a tab between columns, one of them empty',
    role: 'meter',
    options: { column: 3, separator: 'tab' },
    bytes: '\n1\t\t0.31\n',
    readings: [resistance(0.31, 0.01, 8)],
    faults: [],
  },
  {
    name: 'lines that give no reading',
    role: 'manometer',
    options: { column: 2 },
    bytes: `\n1\n1,\n1,"2\n1,-62.5\n1,3 4\n1,3 bar\n1,HOLD 3 Pa\n1,ERR\n1,0.31 ohm\n${'9,'.repeat(600)}\n1,3 Pa\n`,
    readings: [pressure(3, 'Pa', 1, 7)],
    faults: [
      { code: 'unreadable', text: 'column 2 wanted, 1 came' },
      { code: 'unreadable', text: 'column 2 is empty' },
      { code: 'unreadable', text: 'a quote' },
      { code: 'no-unit', text: '-62.5 has no unit' },
      { code: 'unreadable', text: 'no single value in column 2' },
      { code: 'unreadable', text: 'no single value in column 2' },
      { code: 'held', text: 'HOLD' },
      { code: 'device-error', text: 'ERR' },
      { code: 'wrong-quantity', text: 'pressure expected, resistance came' },
      { code: 'overlong', text: 'no line end in 1024 bytes' },
    ],
  },
]
