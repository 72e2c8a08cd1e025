// Keys and text, one after the other, onto a screen without a terminal; and its view as plain rows.

import { footOf } from '../../../src/terminal/screens/frame.ts'
import { type Framed, framed, pasteScreen, pressScreen, type Screen } from '../../../src/terminal/screens/screen.ts'
import { bareText } from '../../../src/terminal/text/line.ts'

/** The state after `keys`, and all that they asked for. Single characters may stand in one text: `typed('abc')`. */
export function pressAll<S, A>(screen: Screen<S, A>, state: S, ...keys: string[]) {
  let now: Framed<S> = framed(state)
  const asked: A[] = []
  let left = false
  for (const key of keys) {
    const pressed = pressScreen(screen, now, key)
    now = pressed.state
    if (pressed.ask !== null) asked.push(pressed.ask)
    left ||= pressed.leave
  }
  return { framed: now, own: now.own, said: now.said, asked, left }
}

/** The characters of a text as keys. */
export const typed = (text: string) => [...text]

/** The state after a paste. */
export const pasteInto = <S, A>(screen: Screen<S, A>, state: S, text: string) =>
  pasteScreen(screen, framed(state), text)

/** Rows of the screen at `columns` × `rows`, without spaces at their ends. */
export function rowsOf<S, A>(screen: Screen<S, A>, state: S, columns = 80, rows = 24): string[] {
  const regions = screen.view(state, { columns, rows }, footOf(screen, framed(state), columns))
  return regions.flatMap(({ lines }) => lines.map((l) => bareText(l).trimEnd()))
}
