// Frames of sixteen characters, as panel and hand-held instruments send them. Common practice, no source.
import type { Transcript } from '../../src/contract/transcript.ts'
import { pressure, resistance } from './transcript.ts'

const infinity = Number.POSITIVE_INFINITY
const frame = (text: string) => `\x024${text}\r`

export const transcripts: readonly Transcript[] = [
  {
    name: 'a manometer in hundredths of a millibar, its first frame cut, its second display passed over',
    role: 'manometer',
    options: { units: '78=mbar 82=inH2O' },
    bytes: `0062\r${frame('1781200000062')}${frame('2010100000231')}${frame('1780300000250')}\n${frame('17810      12')}`,
    readings: [pressure(-62, 'mbar', 1, 16), pressure(25, 'mbar', 0.1, 16), pressure(-1200, 'mbar', 100, 17)],
    faults: [],
  },
  {
    name: 'a meter in two ranges, then open',
    role: 'meter',
    options: { units: '38=ohm, 39=kOhm' },
    bytes: `\r${frame('1380200000031')}${frame('1390300004700')}${frame('13902   OL   ')}${frame('13900--------')}`,
    readings: [
      resistance(0.31, 0.01, 16),
      resistance(4700, 1, 16),
      resistance(infinity, null, 16),
      resistance(infinity, null, 16),
    ],
    faults: [],
  },
  {
    name: 'below the range of a manometer',
    role: 'manometer',
    options: { units: '82=inH2O', display: 2 },
    bytes: `\r${frame('28213--------')}`,
    readings: [pressure(-infinity, 'inH2O', null, 16)],
    faults: [],
  },
  {
    name: 'a code without a unit, the other quantity, letters for digits, a frame cut short, one too long, noise',
    role: 'manometer',
    options: { units: '38=ohm 78=mbar 11=volt' },
    bytes: `\r${frame('1820200000062')}${frame('1110200000062')}${frame('1380200000031')}${frame('17802  Err  2')}${frame('178020000062')}${'0'.repeat(40)}\r\x80\xff\r${frame('1780200000062')}`,
    readings: [pressure(62, 'mbar', 1, 16)],
    faults: [
      { code: 'no-unit', text: 'add 82= and its unit' },
      { code: 'no-unit', text: 'add 11= and its unit' },
      { code: 'wrong-quantity', text: 'pressure expected, resistance came' },
      { code: 'unreadable', text: 'no number on the display: "  Err  2"' },
      { code: 'unreadable', text: 'no frame of sixteen characters' },
      { code: 'overlong', text: 'no line end in 18 bytes' },
      { code: 'unreadable', text: 'no frame of sixteen characters' },
    ],
  },
]
