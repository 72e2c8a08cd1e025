// A title, rows and the key table into a whole screen: header, rows that scroll with what is chosen, keys at the foot.

import type { Rect, Size } from '../panels/layout.ts'
import type { Region } from '../panels/shown.ts'

import { clipLine, type Line, line, lineWidth, span, spread, wrapLine } from '../text/line.ts'
import { cleanText, padText, textWidth } from '../text/text.ts'
import type { Framed, Screen } from './screen.ts'

const leastColumns = 60
const leastRows = 16
const wideColumns = 110

/** Room of a screen: `small` below 60 × 16, where only what is needed is shown; `wide` has room for two columns. */
export type Room = { all: Rect; width: number; body: number; small: boolean; wide: boolean }

/** What can be drawn on: one row stays free, as on the bench screen; without header and gap where it is small. */
export function roomOf(size: Size): Room {
  const width = Math.max(1, Math.floor(size.columns) || 1)
  const height = Math.max(1, (Math.floor(size.rows) || 1) - 1)
  const small = width < leastColumns || height < leastRows - 1
  const body = Math.max(0, height - (small ? 2 : 4))
  return { all: { x: 0, y: 0, width, height }, width, body, small, wide: width >= wideColumns && !small }
}

/** The whole screen; `title` may hold any text, `right` and `body` are clean. `body` is cut to its room. `right` is the end of the header. */
export function frame(size: Size, title: string, right: string, body: readonly Line[], foot: Line): Region[] {
  const room = roomOf(size)
  const { all, width } = room
  const header = spread(line(` ${cleanText(title)}`, 'bar'), right === '' ? [] : line(`${right} `, 'bar'), width, 'bar')
  const gap = room.small ? [] : [line('')]
  const rows = [header, ...gap, ...body.slice(0, room.body)]
  while (rows.length < all.height - 1) rows.push(line(''))
  const lines = all.height < 2 ? [body[0] ?? header] : [...rows.slice(0, all.height - 1), foot]
  return [{ rect: all, lines: lines.map((l) => clipLine(l, width)) }]
}

/** First row to show of `count`, so that `at` is in the middle of `rows` where that is possible. */
export function firstShown(at: number, count: number, rows: number): number {
  return Math.max(0, Math.min(at - Math.floor(rows / 2), count - rows))
}

/** Any text made safe to show with all its spaces, for what is in columns or is being typed. */
export const cleanSpaced = (text: string): string => text.split(' ').map(cleanText).join(' ')

/** `left` and `right` side by side, `right` from column `column` on. */
export function beside(left: readonly Line[], right: readonly Line[], column: number): Line[] {
  return Array.from({ length: Math.max(left.length, right.length) }, (_, i) => {
    const kept = clipLine(left[i] ?? [], column - 1)
    return [...kept, span(' '.repeat(Math.max(0, column - lineWidth(kept)))), ...(right[i] ?? [])]
  })
}

/** Any text as rows of `width` cells with a margin on the left; an empty text gives an empty row. */
export function paragraph(text: string, width: number, margin = 1, most = 6): Line[] {
  if (text === '') return [line('')]
  return wrapLine(line(cleanText(text)), width - margin - 1, most).map((l): Line => [span(' '.repeat(margin)), ...l])
}

/** The keys, those that do nothing just now in brackets where there is room for them; or what the last key said. */
export function footOf<S, A>(screen: Screen<S, A>, { own, said }: Framed<S>, width: number): Line {
  if (said !== null) return line(` ${fitSaid(cleanText(said), width - 1)}`, 'warn')
  const hints = screen.keys
    .filter(({ quiet }) => !quiet)
    .map(
      (row): Line =>
        (row.blocked?.(own) ?? null) === null
          ? [span(` ${row.shown} `, 'strong'), span(`${row.short} `)]
          : [span(` (${row.shown} ${row.short}) `, 'dim')],
    )
  const help: Line = [span(screen.type?.(own, '?', false) ? ' Ctrl-G ' : ' ? ', 'strong'), span('keys ')]
  const fits = (all: readonly Line[]) => lineWidth([...all.flat(), ...help]) <= width
  const open = hints.filter((hint) => hint[0]?.tone !== 'dim')
  const kept = fits(hints) ? hints : open.filter((_, i) => fits(open.slice(0, i + 1)))
  return [...kept.flat(), ...help]
}

/** A sentence in `width` cells: where it has a path and is too long, the path loses its front; its end says which file it is. */
function fitSaid(text: string, width: number): string {
  const path = /(?<=^|\s)(?:[A-Za-z]:)?[/\\]/.exec(text)
  if (path === null || textWidth(text) <= width) return text
  const before = text.slice(0, path.index)
  let end = text.slice(path.index)
  while (end !== '' && textWidth(`${before}…${end}`) > width) end = end.slice(1)
  return `${before}…${end}`
}

/** The key table as a list: each key, what it does, and why it does nothing just now. */
export function helpRegion<S, A>(screen: Screen<S, A>, state: S, size: Size): Region[] {
  const { width, small } = roomOf(size)
  const named = Math.min(17, Math.max(...screen.keys.map(({ shown }) => shown.length), 9) + 3)
  const row = (shown: string, text: Line): Line[] =>
    // On a small screen all keys in short are worth more than the first ones whole.
    wrapLine(text, width - named - 1, small ? 1 : 3).map(
      (l, i): Line => [span(padText(i === 0 ? ` ${shown}` : '', named), 'strong'), ...l],
    )
  const rows = screen.keys.flatMap((key) => {
    if (key.shown === '') return []
    const why = key.blocked?.(state) ?? null
    return row(key.shown, [span(key.does), ...(why === null ? [] : [span(` Not now: ${why}.`, 'warn')])])
  })
  const all = [
    ...rows,
    ...row('? Ctrl-G', line('This list; where text is typed, Ctrl-G only.')),
    ...row('Ctrl-C', line('Leave the program.')),
  ]
  return frame(size, 'Keys', '', all, line(' Any key closes this.', 'dim'))
}
