// The words of a continuity tester (Open, Short) into the state of the contact: it tells no ohms.
import type { Fault } from '../src/core/model/reading.ts'
import type { Driver, Role } from '../src/driver.ts'
import { lineEnd } from '../src/protocol/line-values.ts'
import { type LineMemory, readLines } from '../src/protocol/lines.ts'
import { faultOf, fitting, type Measured } from '../src/protocol/measured.ts'
import { refusedWord } from '../src/protocol/refused-words.ts'
import { decodeSymbols, isText } from '../src/protocol/symbols.ts'

const maxFrameBytes = 128
// Common practice, no source.
const closedWords = new Set(['SHORT', 'SHRT', 'CLOSED', 'CLOSE', 'SHORTED'])
const openWords = new Set(['OPEN', 'OL', 'O.L', '0L', '0.L', 'OPENED'])
/** Words that turn the meaning of others, or take it away. */
const otherWords = new Set(['NO', 'NOT', 'ERR', 'ERROR', 'FAIL', 'FAULT'])

export const driver: Driver<LineMemory> = {
  id: 'continuity-text',
  title: 'A continuity tester that says Open or Short',
  serial: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
  options: {
    closedWord: { kind: 'text', default: '', help: 'A word of its own for a closed contact, beside Short and Closed.' },
    openWord: { kind: 'text', default: '', help: 'A word of its own for an open contact, beside Open and OL.' },
    end: lineEnd,
  },
  channels: [{ name: 'contact', quantity: 'contact', unit: 'state' }],
  wire: ({ end }) => ({
    framing: { kind: 'lines', end: end === 'cr' ? 'cr' : 'lf' },
    start: null,
    poll: [],
    maxFrameBytes,
  }),
  decode: (memory, chunk, { options, role }) =>
    readLines(memory, chunk, options['end'] === 'cr' ? 'cr' : 'lf', maxFrameBytes, (text) =>
      readState(text, role, String(options['closedWord']), String(options['openWord'])),
    ),
}

/** The one state in a line; other words, such as a label, say nothing of it. */
function readState(text: string, role: Role, closedWord: string, openWord: string): Measured[] | Fault | null {
  const shown = text.trim().toUpperCase()
  if (shown === '') return null
  const words = shown.split(/[^A-Z0-9.]+/).map((word) => word.replace(/\.$/, ''))
  const refused = refusedWord(text)
  if (refused !== null) return refused
  const says = (known: ReadonlySet<string>, own: string) =>
    shown === own.toUpperCase() || words.some((word) => known.has(word) || word === own.toUpperCase())
  const [closed, open] = [says(closedWords, closedWord), says(openWords, openWord)]
  if (closed === open || words.some((word) => otherWords.has(word)) || !isText(decodeSymbols(text)))
    return faultOf('unreadable', `not clear whether open or closed: "${shown}"`)
  return fitting({ quantity: 'contact', value: closed ? 1 : 0, unit: 'state', digit: null }, role)
}
