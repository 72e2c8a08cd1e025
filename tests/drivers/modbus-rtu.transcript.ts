// Conversations with Modbus RTU slaves. The CRCs were worked out with another program; frames said to be published are.
import type { Said, Transcript } from '../../src/contract/transcript.ts'
import { bytesOf } from '../harness/bytes-of.ts'
import { pressure, resistance } from './transcript.ts'

const infinity = Number.POSITIVE_INFINITY
const sent = (hex: string): Said => ({ sent: bytesOf(hex) })
const oneRegister = sent('01 03 00 00 00 01 84 0A')

export const transcripts: readonly Transcript[] = [
  {
    name: 'a manometer in tenths of a pascal; over-range, under-range and no value as the maker states them',
    role: 'manometer',
    options: { scale: 0.1, overRange: '32767, 0x8000', noNumber: '-9999' },
    bytes: [
      oneRegister,
      bytesOf('01 03 02 FD 8F B9 70'),
      oneRegister,
      bytesOf('01 03 02 7F FF D8 34'),
      oneRegister,
      bytesOf('01 03 02 80 00 D9 84'),
      oneRegister,
      bytesOf('01 03 02 D8 F1 23 C0'),
    ],
    readings: [
      pressure(-62.5, 'Pa', 0.1, 7),
      pressure(infinity, 'Pa', null, 7),
      pressure(-infinity, 'Pa', null, 7),
      pressure(Number.NaN, 'Pa', null, 7),
    ],
    faults: [],
  },
  {
    // MODBUS Application Protocol Specification V1.1b3, 6.3: registers 108 to 110 hold 555, 0 and 100.
    name: 'the published example, read as a bridge that holds pascals and ohms',
    role: 'bridge',
    options: { register: 107, resistanceRegister: 109 },
    bytes: [sent('01 03 00 6B 00 03 74 17'), bytesOf('01 03 06 02 2B 00 00 00 64 05 7A')],
    readings: [pressure(555, 'Pa', 1, 11), resistance(100, 1, 11)],
    faults: [],
  },
  {
    name: 'a bridge with floating numbers in input registers, behind a lead that repeats what is sent',
    role: 'bridge',
    options: { slave: 2, function: '04', register: 256, resistanceRegister: 258, type: 'float32' },
    bytes: [sent('02 04 01 00 00 04 F0 06'), bytesOf('02 04 01 00 00 04 F0 06 02 04 08 C2 7A 00 00 3E 9E B8 52 E2 FC')],
    readings: [pressure(-62.5, 'Pa', null, 13), resistance(Math.fround(0.31), null, 13)],
    faults: [],
  },
  {
    name: 'a meter whose decimals are in a register; a count of decimals that is none',
    role: 'meter',
    options: { register: 4, decimalsRegister: 2 },
    bytes: [
      sent('01 03 00 02 00 03 A4 0B'),
      bytesOf('01 03 06 00 02 00 00 00 1F 19 7D'),
      sent('01 03 00 02 00 03 A4 0B'),
      bytesOf('01 03 06 00 0B 00 02 00 1F 64 BC'),
    ],
    readings: [resistance(0.31, 0.01, 11)],
    faults: [{ code: 'unreadable', text: 'decimals' }],
  },
  {
    name: 'refusals, a damaged answer, another slave, an answer too late, and one that nobody asked for',
    role: 'manometer',
    bytes: [
      bytesOf('01 03 02 FD 8F B9 70'),
      oneRegister,
      bytesOf('01 83 02 C0 F1'),
      oneRegister,
      bytesOf('01 03 02 FD 8E B9 70'),
      oneRegister,
      bytesOf('02 03 02 FD 8F FD 70 01 03 02 FD 8F B9 70 01 03 02 FD 8F B9 70'),
      oneRegister,
      bytesOf('01 03 02 FD'),
      oneRegister,
      bytesOf('8F B9 70 01 03 02 FD 8F B9 70'),
    ],
    readings: [pressure(-625, 'Pa', 1, 7), pressure(-625, 'Pa', 1, 7)],
    faults: [
      { code: 'device-error', text: 'exception 2, illegal data address' },
      { code: 'unreadable', text: 'no answer to the query' },
      { code: 'unreadable', text: 'no answer to the query' },
      { code: 'unreadable', text: 'no answer to the query' },
    ],
  },
  {
    name: 'options that cannot be meant give no reading',
    role: 'bridge',
    bytes: [oneRegister, bytesOf('01 03 02 FD 8F B9 70')],
    readings: [],
    faults: [{ code: 'unreadable', text: 'a bridge needs "resistanceRegister"' }],
  },
  {
    name: 'a list of numbers with a word in it gives no reading',
    role: 'manometer',
    options: { overRange: '32767 max' },
    bytes: [oneRegister, bytesOf('01 03 02 FD 8F B9 70')],
    readings: [],
    faults: [{ code: 'unreadable', text: '"overRange" holds "max"' }],
  },
]
