// Text being typed and its cursor, changed by one key at a time; and as much of it as its field has room for, the cursor's cell inverse.
import { type Line, span } from './line.ts'
import { cleanText, textWidth } from './text.ts'

/** `cursor`: the character it is on, by its place in the text; null: behind the last one. */
export type Editor = { text: string; cursor: number | null }

/** Keys that `editText` knows, by what they do; each group has one row in a list of keys. */
export const editKeys = {
  move: ['left', 'right', 'home', 'end', 'ctrl-a', 'ctrl-e'],
  erase: ['backspace', 'delete', 'ctrl-w', 'ctrl-u', 'ctrl-k'],
} as const

// What a reader takes for one character may be several code points: a letter and its accent, a family of emoji.
const segmenter = new Intl.Segmenter()
const pieces = (text: string) => [...segmenter.segment(text)]

/** The text after one key; unchanged where the key is none of `editKeys`. */
export function editText({ text, cursor }: Editor, key: string): Editor {
  const at = placeOf({ text, cursor })
  const before = text.slice(0, at)
  const after = text.slice(at)
  const back = before.length - (pieces(before).at(-1)?.segment.length ?? 0)
  const on = at + (pieces(after)[0]?.segment.length ?? 0)
  const cut = (from: number, to: number): Editor => placed(text.slice(0, from) + text.slice(to), from)
  const changes: Record<string, () => Editor> = {
    left: () => placed(text, back),
    right: () => placed(text, on),
    home: () => placed(text, 0),
    end: () => placed(text, text.length),
    'ctrl-a': () => placed(text, 0),
    'ctrl-e': () => placed(text, text.length),
    backspace: () => cut(back, at),
    delete: () => cut(at, on),
    'ctrl-w': () => cut(before.replace(/\S*\s*$/, '').length, at),
    'ctrl-u': () => cut(0, at),
    'ctrl-k': () => cut(at, text.length),
  }
  return (Object.hasOwn(changes, key) && changes[key]?.()) || { text, cursor }
}

/** The text with `typed` at the cursor, as much of it as fits into `longest` code points. */
export function typeText({ text, cursor }: Editor, typed: string, longest: number): Editor {
  const at = placeOf({ text, cursor })
  let room = longest - [...text].length
  const kept = pieces(typed).filter(({ segment }) => {
    room -= [...segment].length
    return room >= 0
  })
  const put = kept.map(({ segment }) => segment).join('')
  return placed(text.slice(0, at) + put + text.slice(at), at + put.length)
}

/** Where the cursor is: never within a character, never outside the text. */
function placeOf({ text, cursor }: Editor): number {
  if (cursor === null || cursor >= text.length) return text.length
  return segmenter.segment(text).containing(Math.max(0, cursor))?.index ?? text.length
}

/** What was typed may have become one character with what is behind it: then the cursor goes behind both. */
function placed(text: string, at: number): Editor {
  const next = pieces(text).find(({ index }) => index >= at)?.index ?? text.length
  return { text, cursor: next === text.length ? null : next }
}

/** The text in a field of `width` cells, scrolled so that the cursor is in it; what is cut off shows as `…`. */
export function editorLine(editor: Editor, width: number): Line {
  const here = placeOf(editor)
  const cells: { shown: string; from: number; to: number; isHere: boolean }[] = []
  const behind = here === editor.text.length ? [{ segment: ' ', index: here }] : []
  for (const { segment, index } of [...pieces(editor.text), ...behind]) {
    const clean = /^\s/.test(segment) ? ' ' : cleanText(segment)
    // What has no cell of its own, or is too wide for half the field, could not be shown with the cursor on it.
    const most = Math.max(1, Math.ceil(width / 2) - 1)
    const shown = textWidth(clean) >= 1 && textWidth(clean) <= most ? clean : '?'
    const from = cells.at(-1)?.to ?? 0
    cells.push({ shown, from, to: from + textWidth(shown), isHere: index === here })
  }
  const end = cells.at(-1)!.to
  const middle = cells.find(({ isHere }) => isHere)!.from - Math.floor(width / 2)
  const first = Math.max(0, Math.min(middle, end - width))
  const [isCutLeft, isCutRight] = [first > 0, first + width < end]
  const kept = cells.filter(
    ({ from, to }) => from >= first + (isCutLeft ? 1 : 0) && to <= first + width - (isCutRight ? 1 : 0),
  )
  const at = kept.findIndex(({ isHere }) => isHere)
  const shown = (from: number, to?: number) =>
    kept
      .slice(from, to)
      .map((cell) => cell.shown)
      .join('')
  return [
    span(isCutLeft ? '…' : '', 'dim'),
    span(shown(0, at), 'strong'),
    span(shown(at, at + 1), 'bar'),
    span(shown(at + 1), 'strong'),
    span(isCutRight ? '…' : '', 'dim'),
  ].filter(({ text }) => text !== '')
}
