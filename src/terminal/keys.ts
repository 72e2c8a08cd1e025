// The keys of the bench screen as one table: what each does, and why it does nothing just now. The help is made from the same table.
import type { Live, Phase } from '../core/live.ts'

/** What a key asks for. */
export type Command =
  | 'zero'
  | 'first-stroke'
  | 'precondition'
  | 'cycles'
  | 'discard-cycle'
  | 'note'
  | 'end'
  | 'leave'
  | 'help'
  | 'finish'
  | 'abandon'
  | 'go-on'

/** What a key's use depends on. `marks`: this run takes marks; `ends`: it can be ended from here; `ending`: that was asked for. */
export type KeySituation = { live: Live | null; marks: boolean; ends: boolean; ending: boolean }

export type KeyRow = {
  /** Names as `keyNames` gives them; the first is shown. */
  keys: readonly string[]
  shown: string
  /** A word or two for the foot of the screen. */
  short: string
  /** A sentence for the help. */
  does: string
  command: Command
  /** Null when the key works now, else why not. */
  blocked: (situation: KeySituation) => string | null
}

const phaseOf = ({ live }: KeySituation): Phase => live?.phase ?? 'waiting'

function markBlocked(situation: KeySituation): string | null {
  if (!situation.marks) return 'this is a recording played back; it takes no marks'
  const phase = phaseOf(situation)
  if (phase === 'waiting') return 'there is no reading yet'
  if (phase === 'ended' || situation.ending) return 'the test has ended'
  return null
}

const markedIn = (phases: readonly Phase[], why: string) => (situation: KeySituation) =>
  markBlocked(situation) ?? (phases.includes(phaseOf(situation)) ? why : null)

/** Keys while a test is shown. */
export const testKeys: readonly KeyRow[] = [
  {
    keys: ['z'],
    shown: 'z',
    short: 'zero',
    does: 'Zero: both ports are open to the room from now on.',
    command: 'zero',
    blocked: markBlocked,
  },
  {
    keys: ['f'],
    shown: 'f',
    short: 'first',
    does: 'First stroke: the next stroke is the first after rest.',
    command: 'first-stroke',
    blocked: markedIn(
      ['precondition', 'cycles', 'closing-zero'],
      'the first stroke is over; only a rested part has another',
    ),
  },
  {
    keys: ['p'],
    shown: 'p',
    short: 'precond.',
    does: 'Precondition: the next strokes are not counted.',
    command: 'precondition',
    blocked: markedIn(['cycles', 'closing-zero'], 'counting has begun'),
  },
  {
    keys: ['c'],
    shown: 'c',
    short: 'count',
    does: 'Cycles: strokes count from the next one on.',
    command: 'cycles',
    blocked: markedIn(['cycles'], 'cycles are being counted already'),
  },
  {
    keys: ['d'],
    shown: 'd',
    short: 'discard',
    does: 'Discard the stroke in progress, else the last one; it stays on record.',
    command: 'discard-cycle',
    blocked: markedIn(['zero'], 'there is no stroke to discard yet'),
  },
  {
    keys: ['n'],
    shown: 'n',
    short: 'note',
    does: 'Note: write a line into the recording.',
    command: 'note',
    blocked: markBlocked,
  },
  {
    keys: ['q', 'ctrl-c'],
    shown: 'q',
    short: 'end',
    does: 'End the test (asks first) or, once it has ended, leave. Ctrl-C does the same.',
    command: 'end',
    blocked: () => null,
  },
  {
    keys: ['enter'],
    shown: 'Enter',
    short: 'leave',
    does: 'Leave the verdict.',
    command: 'leave',
    blocked: (situation) => (phaseOf(situation) === 'ended' ? null : 'the test is still running; q ends it'),
  },
  { keys: ['?'], shown: '?', short: 'help', does: 'This list.', command: 'help', blocked: () => null },
]

/** Keys while the question stands whether to end the test. */
export const questionKeys: readonly KeyRow[] = [
  {
    keys: ['enter'],
    shown: 'Enter',
    short: 'finish and judge',
    does: 'Finish: what was measured so far is judged.',
    command: 'finish',
    blocked: () => null,
  },
  {
    keys: ['a', 'ctrl-c'],
    shown: 'a',
    short: 'abandon',
    does: 'Abandon: the recording is kept and can never pass. Ctrl-C does the same.',
    command: 'abandon',
    blocked: () => null,
  },
  {
    keys: ['escape', 'q'],
    shown: 'Esc',
    short: 'go on',
    does: 'Go on with the test.',
    command: 'go-on',
    blocked: () => null,
  },
]

/** The row that answers to a key; letters answer in either case. Undefined for a key that does nothing. */
export function findKey(table: readonly KeyRow[], key: string): KeyRow | undefined {
  return table.find((row) => row.keys.includes(key.length === 1 ? key.toLowerCase() : key))
}

type Flags = Partial<Record<'ctrl' | 'meta' | 'return' | 'escape' | 'backspace' | 'delete', boolean>>

/**
 * What the terminal handed over in one piece, as single key names: characters as they are, and `enter`, `escape`,
 * `backspace`, `ctrl-c`. Several keys may come in one piece; arrows, other control keys and the rest of a torn arrow
 * sequence give none.
 */
export function keyNames(input: string, flags: Flags): string[] {
  if (flags.ctrl) return input === 'c' ? ['ctrl-c'] : []
  if (flags.return) return ['enter']
  if (flags.escape) return ['escape']
  if (flags.backspace || flags.delete) return ['backspace']
  if (flags.meta || /^\[[A-Za-z]$/.test(input)) return []
  return [...input]
    .map((char) => (char === '\r' || char === '\n' ? 'enter' : char))
    .filter((char) => !/^\p{C}$/u.test(char))
}
