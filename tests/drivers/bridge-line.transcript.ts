// Lines of the board; their checksums were worked out with another program.
import type { Transcript } from '../../src/contract/transcript.ts'
import { contact, pressure, takenAt } from './transcript.ts'

const infinity = Number.POSITIVE_INFINITY

export const transcripts: readonly Transcript[] = [
  {
    name: 'pressure and contact, the port opened within a line, the clock once round',
    role: 'bridge',
    bytes:
      '.35,1,0*DEC9\nMB1,1000,-62.35,1,0*DEC9\r\nMB1,2000,-62.40,0,1*68d7\nMB1,3000,-OL,x*70C1\nMB1,4294967290,NAN,0*BA8E\nMB1,5,3,1*AA68\n',
    readings: [
      ...takenAt(1000, pressure(-62.35, 'Pa', 0.01, 26), contact(1, 26)),
      ...takenAt(2000, pressure(-62.4, 'Pa', 0.01, 25), contact(0, 25)),
      ...takenAt(3000, pressure(-infinity, 'Pa', null, 20), contact(Number.NaN, 20)),
      ...takenAt(2 ** 32 + 5, pressure(3, 'Pa', 1, 15), contact(1, 15)),
    ],
    faults: [{ code: 'device-error', text: "the board's clock stood still or went back, to 4294967290" }],
  },
  {
    name: 'the second contact, and a line that has none',
    role: 'bridge',
    options: { contact: '2' },
    bytes: '\nMB1,1000,-62.35,1,0*DEC9\nMB1,3000,-OL,x*70C1\nMB1,123456789,-62.35,1,0*C96C\n',
    readings: [
      ...takenAt(1000, pressure(-62.35, 'Pa', 0.01, 25), contact(0, 25)),
      ...takenAt(123_456_789, pressure(-62.35, 'Pa', 0.01, 30), contact(0, 30)),
    ],
    faults: [{ code: 'unreadable', text: 'no contact 2' }],
  },
  {
    name: 'a manometer alone: the clock goes round, stops, goes back, and is beyond its bits',
    role: 'manometer',
    bytes:
      '\nMB1,4294967290,NAN,0*BA8E\nMB1,5,3,1*AA68\nMB1,5,3,1,1*AB72\nMB1,4,3,1*6A55\nMB1,4294967296,3,1*3E4C\nMB1,6,OL,1*D77A\n',
    // Behind the clock that went back it counts from there: which round that was is not known.
    readings: [
      ...takenAt(4_294_967_290, pressure(Number.NaN, 'Pa', null, 26)),
      ...takenAt(2 ** 32 + 5, pressure(3, 'Pa', 1, 15)),
      ...takenAt(6, pressure(infinity, 'Pa', null, 16)),
    ],
    faults: [
      { code: 'device-error', text: 'to 5 us' },
      { code: 'device-error', text: 'to 4 us' },
      { code: 'unreadable', text: 'a clock beyond 32 bits' },
    ],
  },
  {
    name: 'a damaged digit, another version, other lines, a line too long',
    role: 'meter',
    bytes: `\nMB1,1000,-62.36,1,0*DEC9\nMB2,7,3,1*6A22\n-62.5 Pa\n\n${'M'.repeat(200)}\nMB1,1000,-62.35,1,0*DEC9\n`,
    readings: takenAt(1000, contact(1, 25)),
    faults: [
      { code: 'unreadable', text: 'the checksum differs' },
      { code: 'unreadable', text: 'no line of the board' },
      { code: 'unreadable', text: 'no line of the board' },
      { code: 'unreadable', text: 'no line of the board' },
      { code: 'overlong', text: 'no line end in 96 bytes' },
    ],
  },
]
