// Frames put together bit by bit from the published table of such a display chip, with another program.
import type { Transcript } from '../../src/contract/transcript.ts'
import { bytesOf } from '../harness/bytes-of.ts'
import { resistance } from './transcript.ts'

const infinity = Number.POSITIVE_INFINITY
const closed = '17 27 3D 47 5D 67 7D 89 9F A0 B0 C4 D0 E0'

export const transcripts: readonly Transcript[] = [
  {
    name: 'a meter in its ranges, the port opened within a frame: 0.3, 4.700 k, open, -0.01, and 0.3 with the beeper on',
    role: 'meter',
    bytes: bytesOf(
      `67 7D 89 9F A0 B0 C4 D0 E0 ${closed} 17 22 37 49 55 67 7D 87 9D A2 B0 C4 D0 E0 17 20 30 47 5D 66 78 80 90 A0 B2 C4 D0 E0 17 2F 3D 47 5D 6F 7D 80 95 A0 B0 C4 D0 E0 17 27 3D 47 5D 67 7D 89 9F A0 B1 C4 D0 E0`,
    ),
    readings: [
      resistance(0.3, 0.1, 14),
      resistance(4700, 1, 14),
      resistance(infinity, null, 14),
      resistance(-0.01, 0.01, 14),
      resistance(0.3, 0.1, 14),
    ],
    faults: [],
  },
  {
    name: 'HOLD, REL, a low battery, volts, two prefixes, a bit that the maker decides, a dark display, a dark digit',
    role: 'meter',
    bytes: bytesOf(
      '17 27 3D 47 5D 67 7D 89 9F A0 B0 C5 D0 E0 17 27 3D 47 5D 67 7D 89 9F A0 B0 C6 D0 E0 17 27 3D 47 5D 67 7D 89 9F A0 B0 C4 D1 E0 17 20 35 45 5B 61 7F 8A 97 A0 B0 C0 D4 E0 17 20 35 45 5B 61 7F 8A 97 A2 B2 C4 D0 E0 17 20 35 45 5B 61 7F 8A 97 A0 B0 C4 D0 E1 17 20 30 40 50 60 70 80 90 A0 B0 C4 D0 E0 17 27 3D 47 5D 60 70 89 9F A0 B0 C4 D0 E0',
    ),
    readings: [],
    faults: [
      { code: 'held', text: 'HOLD' },
      { code: 'held', text: 'REL' },
      { code: 'low-battery', text: 'the battery is low' },
      { code: 'unreadable', text: 'not ohms' },
      { code: 'unreadable', text: 'not ohms' },
      { code: 'unreadable', text: 'not ohms' },
      { code: 'unreadable', text: 'no number on the display: "    "' },
      { code: 'unreadable', text: 'no number on the display: "00 .3"' },
    ],
  },
  {
    name: 'a byte lost, a byte too many, a shape unlike any digit; the next whole frame is read',
    role: 'bridge',
    bytes: bytesOf(
      `17 27 3D 47 67 7D 89 9F ${closed} 17 27 3D 3D ${closed} 17 27 3D 47 5A 67 7D 89 9F A0 B0 C4 D0 E0 ${closed}`,
    ),
    readings: [resistance(0.3, 0.1, 14), resistance(0.3, 0.1, 14), resistance(0.3, 0.1, 14)],
    faults: [
      { code: 'unreadable', text: 'byte 6 of a frame came where 5 belongs' },
      { code: 'unreadable', text: 'byte 3 of a frame came where 4 belongs' },
      { code: 'unreadable', text: 'segments that make no digit' },
    ],
  },
  {
    name: 'both instruments exchanged',
    role: 'manometer',
    bytes: bytesOf(closed),
    readings: [],
    faults: [{ code: 'wrong-quantity', text: 'pressure expected, resistance came' }],
  },
]
