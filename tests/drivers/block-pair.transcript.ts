// Blocks that are sent twice. Common practice, no source.
import type { Transcript } from '../../src/contract/transcript.ts'
import { pressure, resistance } from './transcript.ts'

const infinity = Number.POSITIVE_INFINITY
const twice = (text: string) => `${text}\r\n${text}\r\n`

export const transcripts: readonly Transcript[] = [
  {
    name: 'a meter, the port opened between the two of a pair: a reading for each pair, equal ones too',
    role: 'meter',
    bytes: `0.31\r\n0.32 Ohm\r\n${twice('0.33 Ohm')}${twice('0.33 Ohm')}${twice('OL MOhm')}`,
    readings: [resistance(0.33, 0.01, 20), resistance(0.33, 0.01, 20), resistance(infinity, null, 18)],
    faults: [],
  },
  {
    name: 'a meter whose first blocks are all the same: what comes next shows which of them is a second one, and that is no fault',
    role: 'meter',
    bytes: `OL Ohm\r\nOL Ohm\r\n${twice('OL Ohm')}${twice('0.33 Ohm')}${twice('0.33 Ohm')}0.33 Ohm\r\n${twice('0.34 Ohm')}`,
    readings: [resistance(infinity, null, 16), ...[0.33, 0.33, 0.34].map((value) => resistance(value, 0.01, 20))],
    faults: [{ code: 'unreadable', text: 'a block without its twin: "0.33 Ohm"' }],
  },
  {
    name: 'a manometer with a unit by option, one block lost and one damaged on the wire',
    role: 'manometer',
    options: { unit: 'Pa' },
    bytes: `\n${twice('-62.5')}-62.6\r\n${twice('-62.7')}-62.8\r\n-82.8\r\n${twice('-62.9')}`,
    readings: [pressure(-62.5, 'Pa', 0.1, 14), pressure(-62.7, 'Pa', 0.1, 14), pressure(-62.9, 'Pa', 0.1, 14)],
    faults: ['-62.6', '-62.8', '-82.8'].map((text) => ({
      code: 'unreadable',
      text: `a block without its twin: "${text}"`,
    })),
  },
  {
    name: 'pairs that give no reading: held, an error, the other quantity; a block too long',
    role: 'meter',
    bytes: `\n${twice('0.31 HOLD')}${twice('ERR')}${twice('-62.5 Pa')}0.31\r\n${'9'.repeat(100)}\n${twice('0.31')}`,
    readings: [resistance(0.31, 0.01, 12)],
    faults: [
      { code: 'held', text: 'HOLD' },
      { code: 'device-error', text: 'ERR' },
      { code: 'wrong-quantity', text: 'resistance expected, pressure came' },
      { code: 'overlong', text: 'no line end in 64 bytes' },
      { code: 'unreadable', text: 'a block without its twin: "0.31"' },
    ],
  },
]
