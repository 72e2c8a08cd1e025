// Lines of text into a page that can be scrolled: a budget, an explanation, what went wrong.
import { type Line, line } from '../line.ts'
import { cleanText } from '../text.ts'
import { frame, paragraph, roomOf } from './frame.ts'
import type { Screen } from './screen.ts'

export type PageState = { from: number }
export type PageAsk = 'back'

/**
 * The screen of a page. `texts` may hold any text; each is wrapped to the width, unless `table`: then its spaces stay
 * and what is too long is cut. `most` of the rows are scrolled by; it never scrolls past its last row.
 */
export function createTextPage(
  title: string,
  texts: readonly string[],
  { table = false, back = 'back' }: { table?: boolean; back?: string } = {},
): Screen<PageState, PageAsk> {
  const scroll =
    (by: number) =>
    ({ from }: PageState) => ({
      state: { from: Math.max(0, Math.min(texts.length - 1, from + by)) },
    })
  return {
    keys: [
      {
        keys: ['enter', 'escape', 'q'],
        shown: 'Enter',
        short: back,
        does: 'Go on from this page.',
        leaves: true,
        act: (state) => ({ state, ask: 'back' }),
      },
      { keys: ['up'], shown: '↑', short: 'up', does: 'One row up.', act: scroll(-1) },
      { keys: ['down'], shown: '↓', short: 'down', does: 'One row down.', act: scroll(1) },
      { keys: ['page-up'], shown: 'PgUp', short: 'page up', does: 'Ten rows up.', act: scroll(-10) },
      { keys: ['page-down', ' '], shown: 'PgDn', short: 'page down', does: 'Ten rows down.', act: scroll(10) },
    ],
    view: ({ from }, size, foot) => {
      const { width, body } = roomOf(size)
      const rows = texts.flatMap((text): Line[] =>
        table ? [line(` ${text.split(' ').map(cleanText).join(' ')}`)] : paragraph(cleanText(text), width),
      )
      const first = Math.min(from, Math.max(0, rows.length - body))
      const more = rows.length > body ? `${first + 1}–${Math.min(rows.length, first + body)} of ${rows.length}` : ''
      return frame(size, title, more, rows.slice(first), foot)
    },
  }
}
