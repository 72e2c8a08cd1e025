// Lines of text into a page that can be scrolled: a budget, an explanation, what went wrong.
import { type Line, line } from '../text/line.ts'
import { cleanSpaced, frame, paragraph, roomOf } from './frame.ts'
import type { Screen } from './screen.ts'

/** `from`: the first text shown; less where the page would not be full. */
export type PageState = { from: number }
export type PageAsk = 'next' | 'back'

/**
 * The screen of a page. `given`, which may depend on the width, may hold any text; each is wrapped to the width, unless `table`: then its spaces stay
 * and what is too long is cut. `next`: what Enter goes on to, where it is not the same as going back.
 */
export function createTextPage(
  title: string,
  given: readonly string[] | ((width: number) => readonly string[]),
  { table = false, next = null }: { table?: boolean; next?: string | null } = {},
): Screen<PageState, PageAsk> {
  const textsAt = (width: number) => (typeof given === 'function' ? given(width) : given)
  const last = textsAt(80).length - 1
  const scroll =
    (by: number) =>
    ({ from }: PageState) => ({ state: { from: Math.max(0, Math.min(last, from + by)) } })
  return {
    keys: [
      ...(next === null
        ? []
        : [
            {
              ...{ keys: ['enter'], shown: 'Enter', short: next, does: 'Go on.' },
              act: (state: PageState) => ({ state, ask: 'next' as const }),
            },
          ]),
      {
        keys: next === null ? ['enter', 'escape', 'q'] : ['escape', 'q'],
        shown: next === null ? 'Enter' : 'Esc',
        short: 'back',
        does: 'Leave this page.',
        leaves: true,
        act: (state) => ({ state, ask: 'back' }),
      },
      { keys: ['up'], quiet: true, shown: '↑', short: 'up', does: 'One row up.', act: scroll(-1) },
      { keys: ['down'], quiet: true, shown: '↓', short: 'down', does: 'One row down.', act: scroll(1) },
      { keys: ['page-up'], quiet: true, shown: 'PgUp', short: 'page up', does: 'Ten rows up.', act: scroll(-10) },
      {
        keys: ['page-down', ' '],
        quiet: true,
        shown: 'PgDn',
        short: 'page down',
        does: 'Ten rows down.',
        act: scroll(10),
      },
    ],
    view: ({ from }, size, foot) => {
      const { width, body } = roomOf(size)
      const parts = textsAt(width).map((text): Line[] =>
        table ? [line(` ${cleanSpaced(text)}`)] : paragraph(text, width),
      )
      const rows = parts.flat()
      const first = Math.min(parts.slice(0, from).flat().length, Math.max(0, rows.length - body))
      const more = rows.length > body ? `${first + 1}–${Math.min(rows.length, first + body)} of ${rows.length}` : ''
      return frame(size, title, more, rows.slice(first), foot)
    },
  }
}
