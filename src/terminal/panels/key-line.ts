// The key table into the foot of the screen: the keys that work now, or what the last key said.

import { type Line, line, lineWidth, span } from '../text/line.ts'
import { cleanText, padText, textWidth } from '../text/text.ts'
import { type Command, keysOf, questionKeys } from './keys.ts'
import { isTextMode } from './screen-state.ts'
import type { Shown } from './shown.ts'

/** Cells for the end of a recording's name, such as `…-3f9c1a.run`; with fewer it is left out. */
const leastName = 12

/** Keys that most of a test has no use for: shown only while they work. */
const forItsTime: readonly Command[] = ['acknowledge', 'serial', 'repeat', 'report', 'print', 'tag', 'type', 'contact']

/** One row of keys; keys that are blocked stand in brackets. What the last key said takes their place. */
export function keyLine(
  {
    live,
    screen,
    marks,
    ends,
    rings,
    foot,
    recording,
  }: Pick<Shown, 'live' | 'screen' | 'marks' | 'ends' | 'rings' | 'foot' | 'recording'>,
  width: number,
): Line {
  if (foot) return foot
  if (screen.said !== null) return line(` ${screen.said}`, 'warn')
  if (screen.ending && live?.phase !== 'ended')
    return line(' Ending the test, closing the recording.   q leave at once', 'warn')
  if (isTextMode(screen.mode)) return line(' Enter keep   Esc drop', 'dim')
  const situation = { live, marks, ends, rings, ending: screen.ending }
  const rows = screen.mode === 'question' ? questionKeys : keysOf(situation)
  const leaves = rows.some((row) => row.command === 'leave' && row.blocked(situation) === null)
  const hints = rows
    .filter((row) => row.command !== (leaves ? 'end' : 'leave'))
    .filter((row) => !forItsTime.includes(row.command) || row.blocked(situation) === null)
    .map((row) => ({ row, blocked: row.blocked(situation) !== null }))
  const all = hints.flatMap(({ row, blocked }) =>
    blocked
      ? [span(` (${row.shown} ${row.short}) `, 'dim')]
      : [span(` ${row.shown} `, 'strong'), span(`${row.short} `)],
  )
  // Where not all fit, or all is over, blocked ones go: the help still lists them with the reason.
  const kept = lineWidth(all) > width || leaves ? all.filter((s) => s.tone !== 'dim') : all
  return leaves && recording ? [...kept, ...nameLine(recording, width - lineWidth(kept))] : kept
}

/** The name of the recording at the right of `width` cells; of one that is too long its end, which tells tests apart. */
function nameLine(recording: string, width: number): Line {
  const name = cleanText(recording)
  const room = width - 3
  if (room < leastName) return []
  const shown = textWidth(name) > room ? `…${name.slice(1 - room)}` : name
  return [span(`  ${padText(shown, room, 'right')} `, 'dim')]
}
