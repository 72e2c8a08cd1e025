// The key tables into the help: each key, what it does, and why it does nothing just now.

import { type Line, line, span, wrapLine } from '../text/line.ts'
import { padText } from '../text/text.ts'
import { type KeyRow, keysOf, questionKeys } from './keys.ts'
import type { Rect } from './layout.ts'
import type { Shown } from './shown.ts'

/** The help for a screen of `rect`: every key of every table. */
export function helpLines(
  { live, screen, marks, ends, rings }: Pick<Shown, 'live' | 'screen' | 'marks' | 'ends' | 'rings'>,
  rect: Rect,
): Line[] {
  const situation = { live, marks, ends, rings, ending: screen.ending }
  const rowsOf = (table: readonly KeyRow[]) =>
    table.flatMap((row) => {
      const why = row.blocked(situation)
      const text: Line = [span(row.does), ...(why === null ? [] : [span(` Not now: ${why}.`, 'warn')])]
      return wrapLine(text, rect.width - 9, 3).map(
        (l, i): Line => [span(padText(i === 0 ? ` ${row.shown}` : '', 8), 'strong'), ...l],
      )
    })
  return [
    line(' Keys', 'bar'),
    ...rowsOf(keysOf(situation)),
    line(' When asked whether to end the test', 'bar'),
    ...rowsOf(questionKeys),
    ...wrapLine(
      line('Signs: ✓ pass or counted, ✗ fail, ? undecided, – not assessed, · not counted. Any key closes this.', 'dim'),
      rect.width,
      2,
    ),
  ]
}
