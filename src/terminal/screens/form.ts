// Fields to fill in, checked as they are typed: texts and choices in rows, each mistake in one sentence, nothing lost by accident.

import { type Editor, editText, typeText } from '../text/text-editor.ts'
import { eraseKey, moveKey, unlisted } from './editing-keys.ts'
import { firstWrong } from './form-mistakes.ts'
import type { FormAsk, FormSpec, FormState, Values } from './form-spec.ts'
import { drawForm } from './form-view.ts'
import type { Screen, ScreenKey, Step } from './screen.ts'

const longest = 200

export function formState(spec: FormSpec, values: Values): FormState {
  return { values, before: values, at: spec.rows(values)[0]?.fields[0]?.name ?? '', cursor: null }
}

/** The screen of a form: it asks `{ by: 'done' }` only where nothing is wrong but doubts. */
export function createForm(spec: FormSpec): Screen<FormState, FormAsk> {
  const fieldsOf = (state: FormState) => spec.rows(state.values).flatMap(({ fields }) => fields)
  const fieldAt = (state: FormState) => fieldsOf(state).find(({ name }) => name === state.at) ?? fieldsOf(state)[0]
  const isLast = (state: FormState) => fieldsOf(state).at(-1)?.name === fieldAt(state)?.name
  const isChoice = (state: FormState) => fieldAt(state)?.kind === 'choice'
  const editor = (state: FormState): Editor => ({
    text: state.values[fieldAt(state)?.name ?? ''] ?? '',
    cursor: state.cursor,
  })
  const set = (state: FormState, { text, cursor }: Editor): Step<FormState, FormAsk> => {
    const field = fieldAt(state)
    if (!field) return { state }
    const values = { ...state.values, [field.name]: text }
    return { state: { ...state, cursor, values: spec.follow?.(values) ?? values } }
  }
  /** The cursor is behind the text of a field that is come to. */
  const goTo = (state: FormState, at: string | undefined) => ({ state: { ...state, at: at ?? '', cursor: null } })
  const step = (by: number) => (state: FormState) => {
    const fields = fieldsOf(state)
    const at = fields.findIndex(({ name }) => name === fieldAt(state)?.name)
    return goTo(state, fields[(at + by + fields.length) % fields.length]?.name)
  }
  const rowStep = (by: number) => (state: FormState) => {
    const rows = spec.rows(state.values)
    const row = rows.findIndex(({ fields }) => fields.some(({ name }) => name === fieldAt(state)?.name))
    return goTo(state, rows[(row + by + rows.length) % rows.length]?.fields[0]?.name)
  }
  const choose = (state: FormState, text = '') => set(state, { text, cursor: null })
  const turn = (state: FormState, by: number) => {
    const values = fieldAt(state)?.values ?? []
    const index = values.indexOf(editor(state).text)
    return choose(state, values[index < 0 ? 0 : (index + by + values.length) % values.length])
  }
  // Where something is wrong it goes there instead, and says what.
  const finish =
    (shown: string) =>
    (state: FormState): Step<FormState, FormAsk> => {
      const wrong = firstWrong(spec.rows(state.values), spec.check(state.values))
      if (wrong === null) return { state, ask: { by: 'done', values: state.values } }
      return {
        ...goTo(state, wrong.at ?? state.at),
        said: `${shown} ${spec.done.short}: not now, ${wrong.mistake.text}`,
      }
    }

  const entryAt = (state: FormState) =>
    spec.rows(state.values).find(({ fields }) => fields.some(({ name }) => name === fieldAt(state)?.name))?.entry
  const withoutKey = (without: NonNullable<FormSpec['without']>): ScreenKey<FormState, FormAsk> => ({
    keys: ['ctrl-d'],
    quiet: true,
    shown: 'Ctrl-D',
    short: 'remove',
    does: 'Remove this entry of a list; the empty one at its end is for another.',
    blocked: (state) => (entryAt(state) ? null : 'this row is not an entry of a list'),
    act: (state) => {
      const entry = entryAt(state)
      return { state: { ...state, cursor: null, values: entry ? without(state.values, entry) : state.values } }
    },
  })

  const done: ScreenKey<FormState, FormAsk> = {
    keys: ['ctrl-s'],
    shown: 'Ctrl-S',
    short: spec.done.short,
    does: `${spec.done.does} Where something is wrong: go there.`,
    act: finish('Ctrl-S'),
  }
  const enterDoes = spec.done.enter ? spec.done.does : 'The next field; on the last one the same as Ctrl-S.'
  return {
    keys: [
      ...(spec.done.enter ? [] : [done]),
      {
        keys: ['enter'],
        shown: 'Enter',
        short: spec.done.enter ? spec.done.short : 'next',
        does: enterDoes,
        act: (state) => (spec.done.enter || isLast(state) ? finish('Enter')(state) : step(1)(state)),
      },
      ...(spec.own ?? []).map(({ name, blocked, ...key }) => ({
        ...key,
        blocked: (state: FormState) => blocked?.(state.values) ?? null,
        act: (state: FormState) => ({ state, ask: { by: name, values: state.values } }),
      })),
      {
        keys: ['escape'],
        shown: 'Esc',
        ...spec.back,
        leaves: true,
        act: (state) => ({ state, ask: { by: 'back', values: state.values } }),
      },
      ...(spec.without ? [withoutKey(spec.without)] : []),
      { keys: ['tab'], shown: 'Tab', short: 'field', does: 'The next field; Shift-Tab: the one before.', act: step(1) },
      { keys: ['shift-tab'], ...unlisted, act: step(-1) },
      {
        keys: ['down'],
        quiet: true,
        shown: '↑ ↓',
        short: 'row',
        does: 'The row before, the next row.',
        act: rowStep(1),
      },
      { keys: ['up'], ...unlisted, act: rowStep(-1) },
      {
        ...moveKey,
        does: `On a choice: change it. ${moveKey.does}`,
        act: (state, key) =>
          isChoice(state) ? turn(state, { left: -1, right: 1 }[key] ?? 0) : set(state, editText(editor(state), key)),
      },
      {
        ...eraseKey,
        blocked: (state) => (isChoice(state) ? '← → change a choice' : null),
        act: (state, key) => set(state, editText(editor(state), key)),
      },
    ],
    type: (state, typed, pasted) => {
      const field = fieldAt(state)
      if (!field || (typed === '?' && !pasted && field.kind !== 'text')) return null
      if (field.kind !== 'choice') return set(state, typeText(editor(state), typed, longest))
      if (typed === ' ') return turn(state, 1)
      // A letter goes to the next choice that begins with it.
      const values = field.values ?? []
      const from = values.indexOf(editor(state).text) + 1
      const found = [...values.slice(from), ...values.slice(0, from)].find((value) =>
        value.toLowerCase().startsWith(typed.toLowerCase()),
      )
      return found === undefined ? { state } : choose(state, found)
    },
    unsaved: (state) => (!spec.light && changed(state) ? 'What was changed is not saved.' : null),
    view: (state, size, foot) => drawForm(spec, { ...state, at: fieldAt(state)?.name ?? '' }, size, foot),
  }
}

function changed({ values, before }: FormState): boolean {
  return Object.keys({ ...values, ...before }).some((name) => (values[name] ?? '') !== (before[name] ?? ''))
}
