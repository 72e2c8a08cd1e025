// What the screen itself remembers (help open, question asked, note being written), and how each key changes it.

import { skipNote } from '../../core/guide/step.ts'
import type { TypedAsk } from '../../core/guide/typed-ask.ts'
import { askedName, steppedText, typedDoubt, typedFault, typedText } from '../../core/guide/typed-ask.ts'
import type { EndReason } from '../../core/model/event.ts'
import type { MarkName } from '../../core/model/marks.ts'
import type { TypedOrder } from '../../core/model/typed.ts'
import { type StepName, stepRow } from '../../core/plan/test-steps.table.ts'
import { cleanText } from '../text/text.ts'
import { editText, typeText } from '../text/text-editor.ts'
import { stepWords } from '../text/words.ts'
import { findKey, type KeySituation, keysOf, questionKeys, serialBlocked } from './keys.ts'

/** What a text is typed for. */
type TextMode = 'note' | 'skip' | 'serial' | 'typed'
export const isTextMode = (mode: ScreenState['mode']): mode is TextMode =>
  ['note', 'skip', 'serial', 'typed'].includes(mode)

export type ScreenState = {
  mode: 'test' | 'help' | 'question' | TextMode
  /** The note, the reason for a skip or the serial number, as typed so far. */
  draft: string
  /** Its cursor, as `Editor` has it. */
  cursor: number | null
  /** What a pressure is typed for, and the text that was asked about: the same once more records it. */
  ask: TypedAsk | null
  doubted: string | null
  /** The step that is to be skipped once its reason is given. */
  skips: StepName | null
  /** The bell rings. */
  sound: boolean
  /** Why the last key did nothing, or what it did; until the next key, or until it could be read. */
  said: string | null
  /** The end was asked for and is not here yet. */
  ending: boolean
}

/** What is made of the recording once the screen is left; `print`: the report, on the printer too. */
export type Paper = 'report' | 'print' | 'tag'

/** What a key press asks of the run; null where the screen alone was concerned. */
export type Request =
  | { kind: 'mark'; mark: MarkName; text?: string }
  | { kind: 'typed'; order: TypedOrder }
  | { kind: 'end'; reason: Extract<EndReason, 'finished' | 'abandoned'> }
  | { kind: 'acknowledge'; names: readonly string[] }
  | { kind: 'sound'; on: boolean }
  | { kind: 'serial'; serial: string }
  | { kind: 'repeat' }
  | { kind: 'paper'; paper: Paper }
  | { kind: 'leave' }

export const initialScreen: ScreenState = {
  mode: 'test',
  draft: '',
  cursor: null,
  ask: null,
  doubted: null,
  skips: null,
  sound: true,
  said: null,
  ending: false,
}

/** A note longer than this would not fit the line that shows it. */
const longestNote = 200
/** As of a serial number that is given with the test. */
const longestSerial = 100

type Step = { state: ScreenState; request: Request | null }

/** The state after one key (a name of `keyNames` or `screenKeys`), and what it asks of the run. An unknown key only takes `said` away. */
export function pressKey(before: ScreenState, key: string, run: Omit<KeySituation, 'ending'>): Step {
  const state = { ...before, said: null }
  const stay = (change: Partial<ScreenState> = {}): Step => ({ state: { ...state, ...change }, request: null })
  if (state.mode === 'help') return stay({ mode: 'test' })
  if (isTextMode(state.mode)) return pressInText(state, key, run)

  const situation = { ...run, ending: state.ending }
  const row = findKey(state.mode === 'question' ? questionKeys : keysOf(run), key, situation)
  if (!row) return stay()
  const why = row.blocked(situation)
  if (why !== null) return stay({ said: `${row.shown} ${row.short}: not now, ${why}` })

  switch (row.command) {
    case 'help':
      return stay({ mode: 'help' })
    case 'note':
      return stay({ mode: 'note', draft: '', cursor: null })
    case 'serial':
      return stay({ mode: 'serial', draft: run.serial ?? '', cursor: null })
    case 'type': {
      const ask = run.live?.guide?.typed?.ask ?? null
      return stay({
        mode: 'typed',
        draft: key === 'enter' ? (ask?.offered ?? '') : key,
        cursor: null,
        ask,
        doubted: null,
      })
    }
    case 'contact':
      return keyed(state, run)
    case 'repeat':
      return { state, request: { kind: 'repeat' } }
    case 'report':
    case 'print':
    case 'tag':
      return { state, request: { kind: 'paper', paper: row.command } }
    case 'go-on':
      return stay({ mode: 'test' })
    case 'leave':
      return { state, request: { kind: 'leave' } }
    case 'end': {
      const over = run.live?.phase === 'ended' || state.ending || !run.ends
      return over ? { state, request: { kind: 'leave' } } : stay({ mode: 'question' })
    }
    case 'finish':
    case 'abandon': {
      const reason = row.command === 'finish' ? 'finished' : 'abandoned'
      return {
        state: { ...state, mode: 'test', ending: true },
        request: { kind: 'end', reason },
      }
    }
    case 'acknowledge': {
      const names = run.live?.guide?.cautions.map((c) => c.name) ?? []
      return { state, request: { kind: 'acknowledge', names } }
    }
    case 'sound': {
      const on = !state.sound
      return {
        state: { ...state, sound: on, said: on ? 'The bell rings: one at make, two at break.' : 'The bell is off.' },
        request: { kind: 'sound', on },
      }
    }
    case 'skip':
      return stay({ mode: 'skip', draft: '', cursor: null, skips: run.live?.guide?.step ?? null })
    case 'again': {
      const { mark } = stepRow(run.live?.guide?.step ?? 'verdict')
      if (!mark) return stay()
      return { state: { ...state, said: 'This step begins again.' }, request: { kind: 'mark', ...mark } }
    }
    default:
      return { state: { ...state, said: `Marked: ${row.does}` }, request: { kind: 'mark', mark: row.command } }
  }
}

function pressInText(state: ScreenState, key: string, run: Omit<KeySituation, 'ending'>): Step {
  const { mode, skips, draft, cursor } = state
  const nothing = {
    note: 'No note was kept.',
    skip: 'Nothing was skipped: that takes a reason.',
    serial: 'The serial number stays.',
    typed: 'Nothing was recorded.',
  }[mode as TextMode]
  const back = { ...state, mode: 'test' as const, draft: '', cursor: null, skips: null, ask: null, doubted: null }
  if (key === 'escape' || key === 'ctrl-c') return { state: { ...back, said: nothing }, request: null }
  // The contact may change while its pressure is being typed.
  if (mode === 'typed' && key === 'c') return keyed(state, run)
  if (mode === 'typed' && state.ask !== null && (key === 'enter' || key === 'up' || key === 'down'))
    return pressInNumber(state, state.ask, key, back)
  if ([...key].length === 1) return { state: typed(state, key), request: null }
  if (key !== 'enter') {
    const edited = editText({ text: draft, cursor }, key)
    return { state: { ...state, draft: edited.text, cursor: edited.cursor }, request: null }
  }
  const text = cleanText(state.draft)
  if (text === '') return { state: { ...back, said: nothing }, request: null }
  if (mode === 'serial') {
    const why = serialBlocked({ ...run, ending: state.ending })
    const said = text === run.serial ? nothing : why && `The serial number stays: ${why}.`
    return said
      ? { state: { ...back, said }, request: null }
      : { state: back, request: { kind: 'serial', serial: text } }
  }
  if (mode === 'note' || skips === null)
    return { state: { ...back, said: `Noted: ${text}` }, request: { kind: 'mark', mark: 'note', text } }
  const request: Request = { kind: 'mark', mark: 'note', text: skipNote(skips, text) }
  return { state: { ...back, said: `Skipped: ${stepWords[skips]}. ${stepRow(skips).without ?? ''}` }, request }
}

/** The contact as it is from now on; nothing where a meter sends it. */
function keyed(state: ScreenState, { live }: Omit<KeySituation, 'ending'>): Step {
  const text = live?.guide?.typed?.key ?? null
  if (text === null) return { state, request: null }
  const said = `Keyed: the contact is ${text}.`
  return { state: { ...state, said }, request: { kind: 'typed', order: { what: 'contact', text } } }
}

/** Enter records the number, or asks about it first; up and down go by a digit of the display. */
function pressInNumber(state: ScreenState, ask: TypedAsk, key: 'enter' | 'up' | 'down', back: ScreenState): Step {
  if (key !== 'enter')
    return { state: { ...state, draft: steppedText(ask, state.draft, key === 'up'), cursor: null }, request: null }
  const text = typedText(state.draft)
  const fault = typedFault(ask, text)
  if (fault !== null) return { state: { ...state, said: fault }, request: null }
  const doubt = state.doubted === text ? null : typedDoubt(ask, text)
  if (doubt !== null) {
    const said = `${doubt} Enter once more records it, and it is never changed then.`
    return { state: { ...state, said, doubted: text }, request: null }
  }
  const { what, unit, digit } = ask
  return {
    state: { ...back, said: `Typed: ${askedName(ask)} ${text} ${unit}. d discards the stroke where that is wrong.` },
    request: { kind: 'typed', order: { what, text, unit, digit } },
  }
}

/** The state after a paste: pasted text is never keys; it goes into a text being written, else nowhere. */
export function pasteText(state: ScreenState, text: string): ScreenState {
  return isTextMode(state.mode)
    ? typed(state, cleanText(text))
    : { ...state, said: 'Pasted text was ignored; n takes a note.' }
}

function typed(state: ScreenState, text: string): ScreenState {
  const longest = state.mode === 'serial' ? longestSerial : longestNote
  const { text: draft, cursor } = typeText({ text: state.draft, cursor: state.cursor }, text, longest)
  return { ...state, draft, cursor }
}
