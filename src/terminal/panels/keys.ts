// The keys of the bench screen as one table: what each does, and why it does nothing just now. The help is made from the same table.

import { type StepName, stepRow } from '../../core/plan/test-steps.table.ts'
import type { Live, Phase } from '../../core/view/live.ts'

/** What a key asks for. */
export type Command =
  | 'acknowledge'
  | 'zero'
  | 'again'
  | 'skip'
  | 'discard-cycle'
  | 'note'
  | 'sound'
  | 'serial'
  | 'type'
  | 'contact'
  | 'repeat'
  | 'report'
  | 'tag'
  | 'print'
  | 'end'
  | 'leave'
  | 'help'
  | 'finish'
  | 'abandon'
  | 'go-on'

/**
 * What a key's use depends on. `marks`: this run takes marks; `ends`: it can be ended from here; `ending`: that was asked
 * for; `rings`: there is a bell.
 */
export type KeySituation = {
  live: Live | null
  marks: boolean
  ends: boolean
  ending: boolean
  rings?: boolean | undefined
  /** The part's serial number, where the test can begin again with another. */
  serial?: string
}

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

/** What begins a number. */
const numberKeys = [...'0123456789.,-+']

const typedOf = ({ live }: Pick<KeySituation, 'live'>) => live?.guide?.typed ?? null
const phaseOf = ({ live }: KeySituation): Phase => live?.phase ?? 'waiting'
const stepOf = ({ live }: KeySituation) => live?.guide?.step ?? null

function markBlocked(situation: KeySituation): string | null {
  if (!situation.marks) return 'this is a recording played back; it takes no marks'
  const phase = phaseOf(situation)
  if (phase === 'waiting') return 'no reading yet'
  if (phase === 'ended' || situation.ending) return 'the test has ended'
  return null
}

function againBlocked(situation: KeySituation): string | null {
  const step = stepOf(situation)
  const blocked = markBlocked(situation)
  if (blocked !== null) return blocked
  if (step === 'first-stroke') return 'only a rested part has a first stroke'
  if (step === 'cycles') return 'd discards a cycle and one more counts'
  return canSkip(step) ? null : 'this step cannot be done again'
}

function skipBlocked(situation: KeySituation): string | null {
  const step = stepOf(situation)
  const blocked = markBlocked(situation)
  if (blocked !== null) return blocked
  if (step === 'first-stroke') return 'the first stroke is judged, so it cannot be left out'
  return canSkip(step) ? null : 'this step cannot be left out'
}

/** The recording of a test without a stroke proves nothing of any part, so it may go. */
export function serialBlocked(situation: KeySituation): string | null {
  if (!situation.marks) return 'this is a recording played back'
  const phase = phaseOf(situation)
  if (phase === 'ended' || situation.ending) return 'the test has ended'
  return phase === 'waiting' || phase === 'zero' ? null : 'the first stroke has begun'
}

function repeatBlocked(situation: KeySituation): string | null {
  if (!situation.marks) return 'this is a recording played back'
  if (phaseOf(situation) !== 'ended') return 'the test is still running'
  const verdict = situation.live?.result?.verdict
  return verdict === 'pass' || verdict === 'fail' ? 'the part is decided' : null
}

/** Only of a recording that is sealed, or will not be. */
function reportBlocked(situation: KeySituation): string | null {
  if (!situation.marks) return 'this is a recording played back'
  return phaseOf(situation) === 'ended' ? null : 'the test is still running'
}

/** Whether a step can be left out; such a step can be begun again as well. */
const canSkip = (step: StepName | null): boolean => step !== null && stepRow(step).without !== null

/** Keys while a test is shown. */
export const testKeys: readonly KeyRow[] = [
  {
    keys: ['enter'],
    shown: 'Enter',
    short: 'understood',
    does: 'The cautions are understood; recorded.',
    command: 'acknowledge',
    blocked: (situation) =>
      markBlocked(situation) ?? ((situation.live?.guide?.cautions.length ?? 0) > 0 ? null : 'no caution waits'),
  },
  {
    keys: ['z'],
    shown: 'z',
    short: 'zero',
    does: 'Zero: both ports are open to the room from now on.',
    command: 'zero',
    blocked: markBlocked,
  },
  {
    keys: ['r'],
    shown: 'r',
    short: 'repeat',
    does: 'Test the same part again.',
    command: 'repeat',
    blocked: repeatBlocked,
  },
  {
    keys: ['r'],
    shown: 'r',
    short: 'again',
    does: 'Do this step again.',
    command: 'again',
    blocked: againBlocked,
  },
  {
    keys: ['s'],
    shown: 's',
    short: 'skip',
    does: 'Skip this step; the reason is asked and recorded.',
    command: 'skip',
    blocked: skipBlocked,
  },
  {
    keys: ['d'],
    shown: 'd',
    short: 'discard',
    does: 'Discard the stroke in progress, else the last one; it stays on record.',
    command: 'discard-cycle',
    blocked: (situation) =>
      markBlocked(situation) ?? (phaseOf(situation) === 'zero' ? 'no stroke to discard yet' : null),
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
    keys: ['i'],
    shown: 'i',
    short: 'serial',
    does: 'Correct the serial number.',
    command: 'serial',
    blocked: serialBlocked,
  },
  {
    keys: ['b'],
    shown: 'b',
    short: 'bell',
    does: 'Bell on or off: one at make, two at break.',
    command: 'sound',
    blocked: (situation) => {
      if (situation.rings !== true) return 'a recording is played back in silence'
      return phaseOf(situation) === 'ended' ? 'the test has ended' : null
    },
  },
  {
    keys: ['q', 'ctrl-c'],
    shown: 'q',
    short: 'end',
    does: 'End the test (asks first); once it has ended, leave. As Ctrl-C.',
    command: 'end',
    blocked: () => null,
  },
  {
    ...{ keys: ['enter'], shown: 'Enter', short: 'leave', command: 'leave' },
    does: 'Leave the verdict.',
    blocked: (situation) => (phaseOf(situation) === 'ended' ? null : 'the test is still running; q ends it'),
  },
  {
    ...{ keys: ['w'], shown: 'w', short: 'report', command: 'report' },
    does: 'Leave and write the report.',
    blocked: reportBlocked,
  },
  {
    ...{ keys: ['p'], shown: 'p', short: 'print', command: 'print' },
    does: 'Leave, write and print it.',
    blocked: reportBlocked,
  },
  {
    ...{ keys: ['t'], shown: 't', short: 'tag', command: 'tag' },
    does: 'Leave and write its tag.',
    blocked: reportBlocked,
  },
  { keys: ['?'], shown: '?', short: 'help', does: 'This list.', command: 'help', blocked: () => null },
]

/** Keys of a test in which readings are typed. */
const typedKeys: readonly KeyRow[] = [
  {
    keys: ['enter', ...numberKeys],
    shown: '0-9',
    short: 'type',
    does: 'Type the pressure asked for; Enter offers the last one, arrows go by a digit.',
    command: 'type',
    blocked: (situation) => markBlocked(situation) ?? (typedOf(situation)?.ask ? null : 'no pressure is asked for'),
  },
  {
    keys: ['c'],
    shown: 'c',
    short: 'contact',
    does: 'The contact has changed, as you hear it; at first: it is as at rest.',
    command: 'contact',
    blocked: (situation) => markBlocked(situation) ?? (typedOf(situation)?.key ? null : 'a meter sends the contact'),
  },
]

/** The keys of the test that is shown: where readings are typed a zero is too, and needs no mark. */
export function keysOf(situation: Pick<KeySituation, 'live'>): readonly KeyRow[] {
  const typed = typedOf(situation)
  return typed ? [...typedKeys, ...testKeys.filter(({ command }) => command !== 'zero')] : testKeys
}

/** Keys while the program asks whether to end the test. */
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
    does: 'Abandon: the recording is kept and can never pass. As Ctrl-C.',
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

/** The row that answers to a key in a situation, one that works before one that does not; letters answer in either case. */
export function findKey(table: readonly KeyRow[], key: string, situation: KeySituation): KeyRow | undefined {
  const rows = table.filter((row) => row.keys.includes(key.length === 1 ? key.toLowerCase() : key))
  return rows.find((row) => row.blocked(situation) === null) ?? rows.at(-1)
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
