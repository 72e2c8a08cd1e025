// The key table into the foot of the screen: the keys that work now, or what the last key said.
import { questionKeys, testKeys } from './keys.ts'
import { type Line, line, span } from './line.ts'
import { textWidth } from './text.ts'
import type { Shown } from './view.ts'

/** One row of keys; keys that are blocked stand in brackets. What the last key said takes their place. */
export function keyLine(
  { live, screen, marks, ends }: Pick<Shown, 'live' | 'screen' | 'marks' | 'ends'>,
  width: number,
): Line {
  if (screen.said !== null) return line(` ${screen.said}`, 'warn')
  if (screen.ending && live?.phase !== 'ended')
    return line(' Ending the test, closing the recording.   q leave at once', 'warn')
  if (screen.mode === 'note') return line(' Enter keep   Esc drop', 'dim')
  const situation = { live, marks, ends, ending: screen.ending }
  const rows = screen.mode === 'question' ? questionKeys : testKeys
  const hints = rows.map((row) => ({ row, key: row.shown, short: row.short, blocked: row.blocked(situation) !== null }))
  const leaves = hints.some((h) => h.row.command === 'leave' && !h.blocked)
  const fitting = hints.filter((h) => h.row.command !== (leaves ? 'end' : 'leave'))
  const total = fitting.reduce((sum, h) => sum + textWidth(h.key) + textWidth(h.short) + 4, 0)
  // Where not all fit, or all is over, blocked ones go: the help still lists them with the reason.
  const kept = total > width || leaves ? fitting.filter((h) => !h.blocked) : fitting
  return kept.flatMap((h) =>
    h.blocked ? [span(` (${h.key} ${h.short}) `, 'dim')] : [span(` ${h.key} `, 'strong'), span(`${h.short} `)],
  )
}
