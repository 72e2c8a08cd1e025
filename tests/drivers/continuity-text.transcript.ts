// Lines of continuity testers. Words: common practice, no source.
import type { Transcript } from '../../src/contract/transcript.ts'
import { contact } from './transcript.ts'

export const transcripts: readonly Transcript[] = [
  {
    name: 'Open and Short, in any letters and with a label, the first line cut by the opening of the port',
    role: 'meter',
    bytes: 'en\r\nOpen\r\nSHORT\r\nCONT: Short\r\nO.L\r\nCH1 closed.\r\n\r\n',
    readings: [contact(0, 6), contact(1, 7), contact(1, 13), contact(0, 5), contact(1, 13)],
    faults: [],
  },
  {
    name: 'words of its own, ended by CR',
    role: 'bridge',
    options: { closedWord: 'Beep', openWord: '-', end: 'cr' },
    bytes: '\rbeep\r-\rSHORT\r',
    readings: [contact(1, 5), contact(0, 2), contact(1, 6)],
    faults: [],
  },
  {
    name: 'what says no state, both, one held, an error, noise, and a line too long',
    role: 'meter',
    bytes: `\n0.31 ohm\nOpen Short\nno short\nHOLD Short\nOpen LOW BAT\nError open\n\x80\xff\n${'-'.repeat(200)}\nShort\n`,
    readings: [contact(1, 6)],
    faults: [
      { code: 'unreadable', text: 'not clear whether open or closed: "0.31 OHM"' },
      { code: 'unreadable', text: 'not clear' },
      { code: 'unreadable', text: 'not clear' },
      { code: 'held', text: 'HOLD' },
      { code: 'low-battery', text: 'the battery is low' },
      { code: 'unreadable', text: 'not clear' },
      { code: 'unreadable', text: 'not clear' },
      { code: 'overlong', text: 'no line end in 128 bytes' },
    ],
  },
  {
    name: 'both instruments exchanged',
    role: 'manometer',
    bytes: '\nOpen\n',
    readings: [],
    faults: [{ code: 'wrong-quantity', text: 'pressure expected, contact came' }],
  },
]
