// What the screen itself remembers (help open, question asked, note being written), and how each key changes it.

import { skipNote } from '../../core/guide/step.ts'
import type { EndReason } from '../../core/model/event.ts'
import type { MarkName } from '../../core/model/marks.ts'
import { type StepName, stepRow } from '../../core/plan/test-steps.table.ts'
import { cleanText } from '../text/text.ts'
import { editText, typeText } from '../text/text-editor.ts'
import { stepWords } from '../text/words.ts'
import { findKey, type KeySituation, questionKeys, serialBlocked, testKeys } from './keys.ts'

/** What a text is typed for. */
type TextMode = 'note' | 'skip' | 'serial'
export const isTextMode = (mode: ScreenState['mode']): mode is TextMode => ['note', 'skip', 'serial'].includes(mode)

export type ScreenState = {
  mode: 'test' | 'help' | 'question' | TextMode
  /** The note, the reason for a skip or the serial number, as typed so far. */
  draft: string
  /** Its cursor, as `Editor` has it. */
  cursor: number | null
  /** The step that is to be skipped once its reason is given. */
  skips: StepName | null
  /** The bell rings. */
  sound: boolean
  /** Why the last key did nothing, or what it did; until the next key, or until it could be read. */
  said: string | null
  /** The end was asked for and is not here yet. */
  ending: boolean
}

/** What a key press asks of the run; null where the screen alone was concerned. */
export type Request =
  | { kind: 'mark'; mark: MarkName; text?: string }
  | { kind: 'end'; reason: Extract<EndReason, 'finished' | 'abandoned'> }
  | { kind: 'acknowledge'; names: readonly string[] }
  | { kind: 'sound'; on: boolean }
  | { kind: 'serial'; serial: string }
  | { kind: 'repeat' }
  | { kind: 'report' }
  | { kind: 'leave' }

export const initialScreen: ScreenState = {
  mode: 'test',
  draft: '',
  cursor: null,
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
  const row = findKey(state.mode === 'question' ? questionKeys : testKeys, key, situation)
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
    case 'repeat':
    case 'report':
      return { state, request: { kind: row.command } }
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
  }[mode as TextMode]
  const back = { ...state, mode: 'test' as const, draft: '', cursor: null, skips: null }
  if (key === 'escape' || key === 'ctrl-c') return { state: { ...back, said: nothing }, request: null }
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
