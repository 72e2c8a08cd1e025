// Replies of sign, value, unit and flags. Common practice, no source.
import type { Transcript } from '../../src/contract/transcript.ts'
import { pressure, resistance } from './transcript.ts'

const infinity = Number.POSITIVE_INFINITY
/** Pascal per conventional inch of water, exact: NIST SP 811 (2008), B.8. */
const inH2O = 249.08891

export const transcripts: readonly Transcript[] = [
  {
    name: 'a manometer that repeats the command, its first reply left over from before',
    role: 'manometer',
    bytes: '5,Pa\rD\r-0062.5,Pa,A\r+ 12,3 Pa OK\r-,0.250,in H2O,AUTO\r',
    readings: [
      pressure(-62.5, 'Pa', 0.1, 13),
      pressure(12.3, 'Pa', 0.1, 13),
      pressure(-0.25 * inH2O, 'inH2O', 0.001 * inH2O, 20),
    ],
    faults: [],
  },
  {
    name: 'over-range by a flag, by a word and by dashes, with its sign',
    role: 'manometer',
    options: { terminator: 'crlf', command: 'READ' },
    bytes: '\n-9999;mbar;O\r\n+OL mbar\r\n- ---- mbar\r\n',
    readings: [
      pressure(-infinity, 'mbar', null, 14),
      pressure(infinity, 'mbar', null, 10),
      pressure(-infinity, 'mbar', null, 13),
    ],
    faults: [],
  },
  {
    name: 'a meter, its ohms stated or not, then open',
    role: 'meter',
    bytes: '\r+000.31\r+4.70/kOhm/AUTO\r-9.99,MOhm,OL\r',
    readings: [resistance(0.31, 0.01, 8), resistance(4700, 10, 16), resistance(infinity, null, 14)],
    faults: [],
  },
  {
    name: 'flags of its own',
    role: 'manometer',
    options: { unit: 'Pa', heldFlags: '1 3', plainFlags: '0 2' },
    bytes: '\r-62.5 0\r-62.5 1\r-62.5 2\r-62.5 A\r',
    readings: [pressure(-62.5, 'Pa', 0.1, 8), pressure(-62.5, 'Pa', 0.1, 8)],
    faults: [
      { code: 'held', text: 'on 1' },
      { code: 'unreadable', text: 'the flag "A"' },
    ],
  },
  {
    name: 'what gives no reading: held, a low battery, an unknown flag or unit, no unit, the other quantity, noise, too long',
    role: 'manometer',
    bytes: `\r-62.5,Pa,hold\r-62.5,Pa,A,LB\r-62.5,Pa,X\r-62.5,bar\r-62.5\r+0.31,ohm\rERR\r1.2.3 Pa\r\x80\xff\r${'9'.repeat(200)}\r-62.5,Pa\r`,
    readings: [pressure(-62.5, 'Pa', 0.1, 9)],
    faults: [
      { code: 'held', text: 'hold' },
      { code: 'low-battery', text: 'the battery is low' },
      { code: 'unreadable', text: 'the flag "X"' },
      { code: 'unreadable', text: 'the flag "bar"' },
      { code: 'no-unit', text: '"-62.5" has no unit' },
      { code: 'wrong-quantity', text: 'pressure expected, resistance came' },
      { code: 'unreadable', text: 'no sign and value' },
      { code: 'unreadable', text: 'no sign and value' },
      { code: 'unreadable', text: 'no sign and value' },
      { code: 'overlong', text: 'no line end in 128 bytes' },
    ],
  },
]
