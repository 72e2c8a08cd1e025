// The key table into the foot of the screen: the keys that work now, or what the last key said.

import { type Line, line, lineWidth, span } from '../text/line.ts'
import { questionKeys, testKeys } from './keys.ts'
import type { Shown } from './shown.ts'

/** One row of keys; keys that are blocked stand in brackets. What the last key said takes their place. */
export function keyLine(
  { live, screen, marks, ends, rings, foot }: Pick<Shown, 'live' | 'screen' | 'marks' | 'ends' | 'rings' | 'foot'>,
  width: number,
): Line {
  if (foot) return foot
  if (screen.said !== null) return line(` ${screen.said}`, 'warn')
  if (screen.ending && live?.phase !== 'ended')
    return line(' Ending the test, closing the recording.   q leave at once', 'warn')
  if (screen.mode === 'note' || screen.mode === 'skip') return line(' Enter keep   Esc drop', 'dim')
  const situation = { live, marks, ends, rings, ending: screen.ending }
  const rows = screen.mode === 'question' ? questionKeys : testKeys
  const leaves = rows.some((row) => row.command === 'leave' && row.blocked(situation) === null)
  const hints = rows
    .filter((row) => row.command !== (leaves ? 'end' : 'leave'))
    .filter((row) => row.command !== 'acknowledge' || row.blocked(situation) === null)
    .map((row) => ({ row, blocked: row.blocked(situation) !== null }))
  const all = hints.flatMap(({ row, blocked }) =>
    blocked
      ? [span(` (${row.shown} ${row.short}) `, 'dim')]
      : [span(` ${row.shown} `, 'strong'), span(`${row.short} `)],
  )
  // Where not all fit, or all is over, blocked ones go: the help still lists them with the reason.
  return lineWidth(all) > width || leaves ? all.filter((s) => s.tone !== 'dim') : all
}
