// Rows to choose from, narrowed down by what is typed, with what is known of the chosen one beside or below them.
import type { Size } from '../panels/layout.ts'
import { type Line, line, span, type Tone } from '../text/line.ts'
import { cleanText, clipText, padText, textWidth } from '../text/text.ts'
import { type Editor, editorLine, editText, typeText } from '../text/text-editor.ts'
import { columnWidths } from './column-widths.ts'
import { eraseKey, moveKey } from './editing-keys.ts'
import { beside, firstShown, frame, paragraph, roomOf } from './frame.ts'
import type { Screen, ScreenKey, Step } from './screen.ts'

const longestSearch = 60
/** Cells of the search on the narrowest screen. */
const leastSearch = 12

export type Choice<T> = {
  value: T
  /** One text a column. The last of a row with fewer cells than others runs on to the end of the row. May hold any text. */
  cells: readonly string[]
  tone?: Tone
  /** Paragraphs about it. */
  about?: readonly string[]
  /** Why it cannot be chosen just now. */
  blocked?: string | null
}

/** `cursor`: of the search, as `Editor` has it. */
export type PickState<T> = { rows: readonly Choice<T>[]; search: string; cursor: number | null; at: number }

/** `by`: the key row that was used, `enter` or the name of one of the list's own. `value` is null where no row is there. */
export type Picked<T> = { by: string; value: T | null }

/** A key of one list: `name` comes back as `by`; `onRow`: it needs a row. */
export type ListKey = Pick<ScreenKey<never, never>, 'keys' | 'shown' | 'short' | 'does'> & {
  name: string
  onRow: boolean
}

export type PickSpec = {
  title: string
  right?: string
  /** Rows above the list. */
  intro?: readonly string[]
  /** What is said in the place of an empty list. */
  empty: string
  /** What Enter does, for the key table. */
  enter: { short: string; does: string }
  back: { short: string; does: string }
  /** There is nothing to go back to: Esc does nothing, q leaves. */
  root?: true
  /** Typing narrows the rows down; without it letters are keys. */
  search: boolean
  own?: readonly ListKey[]
  /** Columns that give way where there is too little room, the first of these first; then the others, from the last on. */
  giveWay?: readonly number[]
}

export const pickState = <T>(rows: readonly Choice<T>[], at = 0): PickState<T> => ({
  rows,
  search: '',
  cursor: null,
  at,
})

/** The rows whose cells hold every word of the search, in any case, those first whose name holds them; all where nothing was typed. */
export function matching<T>({ rows, search }: Pick<PickState<T>, 'rows' | 'search'>): readonly Choice<T>[] {
  const words = search.toLowerCase().split(' ').filter(Boolean)
  const holds = (text: string) => words.every((word) => text.toLowerCase().includes(word))
  const found = rows.filter(({ cells }) => holds(cells.join(' ')))
  const named = found.filter(({ cells }) => holds(cells[0] ?? ''))
  return [...named, ...found.filter((row) => !named.includes(row))]
}

/** The same list with other rows: the search stays, and the cursor stays on the value that `same` finds again. */
export function withRows<T>(
  state: PickState<T>,
  rows: readonly Choice<T>[],
  same: (a: T, b: T) => boolean,
): PickState<T> {
  const here = chosen(state)
  const next = { ...state, rows }
  const found = here === null ? -1 : matching(next).findIndex(({ value }) => same(value, here.value))
  return { ...next, at: found >= 0 ? found : Math.min(state.at, Math.max(0, matching(next).length - 1)) }
}

const chosen = <T>(state: PickState<T>): Choice<T> | null => matching(state)[state.at] ?? null

/** The screen of a list; it asks with what was picked, `{ by: 'back' }` to go back. */
export function createPickList<T>(spec: PickSpec): Screen<PickState<T>, Picked<T>> {
  const move = (by: (at: number, count: number) => number) => (state: PickState<T>) => {
    const { length } = matching(state)
    return { state: { ...state, at: Math.max(0, Math.min(length - 1, by(state.at, length))) } }
  }
  const needsRow = (state: PickState<T>) => {
    const row = chosen(state)
    return row === null ? 'choose a row first' : (row.blocked ?? null)
  }
  const pick = (by: string) => (state: PickState<T>) => ({ state, ask: { by, value: chosen(state)?.value ?? null } })
  const keys: ScreenKey<PickState<T>, Picked<T>>[] = [
    { keys: ['enter'], shown: 'Enter', ...spec.enter, blocked: needsRow, act: pick('enter') },
    ...(spec.own ?? []).map(({ name, onRow, ...key }) => ({
      ...key,
      blocked: (state: PickState<T>) => (onRow && chosen(state) === null ? 'choose a row first' : null),
      act: pick(name),
    })),
    {
      keys: [...(spec.root ? [] : ['escape']), ...(spec.search ? [] : ['q'])],
      shown: spec.root ? 'q' : 'Esc',
      ...spec.back,
      act: backOrClear(pick('back')),
    },
    { keys: ['up'], quiet: true, shown: '↑', short: 'up', does: 'One row up.', act: move((at) => at - 1) },
    { keys: ['down'], quiet: true, shown: '↓', short: 'down', does: 'One row down.', act: move((at) => at + 1) },
    {
      keys: ['page-up'],
      quiet: true,
      shown: 'PgUp',
      short: 'ten up',
      does: 'Ten rows up.',
      act: move((at) => at - 10),
    },
    {
      keys: ['page-down'],
      quiet: true,
      shown: 'PgDn',
      short: 'ten down',
      does: 'Ten rows down.',
      act: move((at) => at + 10),
    },
    { keys: ['home'], quiet: true, shown: 'Home', short: 'first', does: 'The first row.', act: move(() => 0) },
    {
      keys: ['end'],
      quiet: true,
      shown: 'End',
      short: 'last',
      does: 'The last row.',
      act: move((_, count) => count - 1),
    },
  ]
  const screen: Screen<PickState<T>, Picked<T>> = { keys, view: (state, size, foot) => draw(spec, state, size, foot) }
  if (!spec.search) return screen
  // Home and End are the list's; of a search so short Ctrl-A and Ctrl-E do the same.
  const search = (state: PickState<T>, key: string) =>
    searchFor(state, editText({ text: state.search, cursor: state.cursor }, key))
  keys.push({ ...moveKey, shown: '← → Ctrl-AE', act: search }, { ...eraseKey, act: search })
  return {
    ...screen,
    type: (state, text, pasted) => {
      if (text === '?' && !pasted) return null
      return searchFor(state, typeText({ text: state.search, cursor: state.cursor }, text, longestSearch))
    },
  }
}

/** Another search begins at the first row that it finds; a cursor that only moves changes none. */
function searchFor<T>(state: PickState<T>, { text, cursor }: Editor) {
  return { state: { ...state, search: text, cursor, at: text === state.search ? state.at : 0 } }
}

/** Escape takes a search away before it goes back. */
function backOrClear<T>(back: (state: PickState<T>) => Step<PickState<T>, Picked<T>>) {
  return (state: PickState<T>) => (state.search === '' ? back(state) : searchFor(state, { text: '', cursor: null }))
}

function draw<T>(spec: PickSpec, state: PickState<T>, size: Size, foot: Line) {
  const room = roomOf(size)
  const rows = matching(state)
  const intro = room.small ? [] : (spec.intro ?? []).flatMap((text) => paragraph(text, room.width, 1, 2))
  const search: Line[] = spec.search
    ? [
        [
          span(' Search: ', 'dim'),
          ...editorLine({ text: state.search, cursor: state.cursor }, Math.max(leastSearch, room.width - 30)),
          span(countText(rows, state), 'dim'),
        ],
      ]
    : []
  const head = [...intro, ...(intro.length > 0 ? [line('')] : []), ...search]
  const listWidth = room.wide ? Math.floor((room.width * 2) / 3) : room.width
  const about = aboutLines(rows[state.at], room.wide ? room.width - listWidth - 2 : room.width - 2)
  const aboutRows = room.wide || room.small ? 0 : Math.min(about.length, Math.max(0, Math.floor(room.body / 3)))
  const listRows = Math.max(1, room.body - head.length - (aboutRows > 0 ? aboutRows + 1 : 0))
  const list =
    rows.length === 0 ? noRows(spec, state, room.width) : listLines(spec, rows, state.at, listRows, listWidth)
  const padded = [...list, ...Array.from({ length: Math.max(0, listRows - list.length) }, () => line(''))]
  const body = room.wide
    ? [...head, ...beside(list, about, listWidth + 2)]
    : [
        ...head,
        ...padded,
        ...(aboutRows > 0 ? [line(''), ...about.slice(0, aboutRows).map((l) => [span(' '), ...l])] : []),
      ]
  return frame(size, spec.title, spec.right ?? '', body, foot)
}

/** Why the list is empty: nothing is there, or nothing that was searched for. */
function noRows<T>({ empty }: PickSpec, { rows, search }: PickState<T>, width: number): Line[] {
  if (rows.length === 0) return paragraph(empty, width)
  return paragraph(`Nothing matches "${search.trim()}"; Esc or Ctrl-U clears the search.`, width)
}

function countText<T>(rows: readonly Choice<T>[], { rows: all, search }: PickState<T>): string {
  if (search !== '') return `  ${rows.length} of ${all.length}`
  return all.length === 0 ? '' : `  type to search ${all.length === 1 ? 'one row' : `${all.length} rows`}`
}

function aboutLines<T>(row: Choice<T> | undefined, width: number): Line[] {
  if (!row) return []
  const blocked = row.blocked ? [[span(`Not now: ${cleanText(row.blocked)}.`, 'warn')]] : []
  return [...blocked, ...(row.about ?? []).flatMap((text) => paragraph(text, width, 0, 5))]
}

const marker = ' ► '

function listLines<T>(
  { giveWay }: PickSpec,
  rows: readonly Choice<T>[],
  at: number,
  most: number,
  width: number,
): Line[] {
  const clean = rows.map(({ cells }) => cells.map(cleanText))
  const columns = Math.max(...clean.map(({ length }) => length))
  const isWhole = (cells: readonly string[]) => cells.length === columns
  const room = Math.max(1, width - marker.length)
  const needed = Array.from({ length: columns }, (_, c) => {
    const widest = Math.max(
      0,
      ...clean.filter((cells) => c < cells.length - 1 || isWhole(cells)).map((cells) => textWidth(cells[c] ?? '')),
    )
    // One long text leaves room for the others.
    return c === columns - 1 ? widest : Math.min(widest, Math.floor(room / 2))
  })
  const widths = columnWidths(needed, room, giveWay)
  const first = firstShown(at, rows.length, most)
  return rows.slice(first, first + most).map((row, i): Line => {
    const cells = clean[first + i] ?? []
    const shown = cells.flatMap((cell, c) => {
      if (c === cells.length - 1 && !isWhole(cells)) return [cell]
      return widths[c] ? [padText(cell, widths[c])] : []
    })
    const here = first + i === at
    return [
      span(here ? marker : ' '.repeat(marker.length), 'accent'),
      span(clipText(shown.join('  ').trimEnd(), room), here ? 'strong' : row.blocked ? 'dim' : (row.tone ?? 'plain')),
    ]
  })
}
