// A screen as plain data and pure functions: what its keys do, where typed text goes, what it shows; and the one way in which a key is run.

import type { Size } from '../panels/layout.ts'
import type { Region } from '../panels/shown.ts'

import type { Line } from '../text/line.ts'

/** What a key made of a screen: its next state, and what it asks of whoever opened the screen. */
export type Step<S, A> = { state: S; ask?: A; said?: string }

export type ScreenKey<S, A> = {
  /** Names as `screenKeys` gives them. */
  keys: readonly string[]
  /** Empty: the list of keys leaves it out, because another row tells of it. */
  shown: string
  /** A word or two for the foot of the screen. */
  short: string
  /** A sentence for the list of keys. */
  does: string
  /** Null when the key works now, else why not; left out, it always works. */
  blocked?: (state: S) => string | null
  /** Everybody tries it without being told: in the list of keys only, never at the foot. */
  quiet?: true
  /** The screen is left by it: asked twice where something would be lost. */
  leaves?: true
  /** `key`: which of its keys it was. */
  act: (state: S, key: string) => Step<S, A>
}

export type Screen<S, A> = {
  keys: readonly ScreenKey<S, A>[]
  /** Takes typed or pasted text, clean already; null where no text is taken just now, so that letters are keys. */
  type?: (state: S, text: string, pasted: boolean) => Step<S, A> | null
  /** What would be lost by leaving, as a sentence; null where nothing would. */
  unsaved?: (state: S) => string | null
  /** `foot`: the row of keys, for the last row. */
  view: (state: S, size: Size, foot: Line) => Region[]
}

/** A screen's own state, and what is the same on all of them. */
export type Framed<S> = {
  own: S
  /** What the last key did, or why it did nothing. */
  said: string | null
  /** The list of keys is open. */
  help: boolean
  /** It was said what leaving would lose. */
  warned: boolean
}

export const framed = <S>(own: S): Framed<S> => ({ own, said: null, help: false, warned: false })

export type Pressed<S, A> = { state: Framed<S>; ask: A | null /** The whole program is to be left. */; leave: boolean }

/** Opens the list of keys on every screen; `?` too, where it is not text. Ctrl-K is a key of the text. */
export const helpKey = 'ctrl-g'
export const leaveKey = 'ctrl-c'

/** The state after one key, named as `screenKeys` names it: text where text is taken, else a row of the key table, else nothing. */
export function pressScreen<S, A>(screen: Screen<S, A>, before: Framed<S>, key: string): Pressed<S, A> {
  const state = { ...before, said: null, warned: false }
  const stay = (change: Partial<Framed<S>> = {}): Pressed<S, A> => ({
    state: { ...state, ...change },
    ask: null,
    leave: false,
  })
  const lost = screen.unsaved?.(state.own) ?? null
  const warn = (again: string) => stay({ said: `${lost} ${again} once more drops that.`, warned: true, help: false })
  if (key === leaveKey) return lost !== null && !before.warned ? warn('Ctrl-C') : { ...stay(), leave: true }
  if (state.help) return stay({ help: false })
  if (key === helpKey) return stay({ help: true })
  if ([...key].length === 1) {
    const typed = screen.type?.(state.own, key, false)
    if (typed) return stepped(state, typed)
    if (key === '?') return stay({ help: true })
  }
  const name = [...key].length === 1 ? key.toLowerCase() : key
  const row = screen.keys.find(({ keys }) => keys.includes(name))
  if (!row) return stay()
  const why = row.blocked?.(state.own) ?? null
  if (why !== null) return stay({ said: `${row.shown} ${row.short}: not now, ${why}.` })
  if (row.leaves && lost !== null && !before.warned) return warn(row.shown)
  return stepped(state, row.act(state.own, name))
}

/** The state after a paste: pasted text is never keys. `text` is clean already. */
export function pasteScreen<S, A>(screen: Screen<S, A>, before: Framed<S>, text: string): Pressed<S, A> {
  const state = { ...before, said: null, warned: false, help: false }
  const typed = screen.type?.(state.own, text, true)
  if (typed) return stepped(state, typed)
  return { state: { ...state, said: 'Nothing here takes pasted text.' }, ask: null, leave: false }
}

function stepped<S, A>(state: Framed<S>, { state: own, ask, said }: Step<S, A>): Pressed<S, A> {
  return { state: { ...state, own, said: said ?? null }, ask: ask ?? null, leave: false }
}
