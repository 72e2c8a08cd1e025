// What changes in a run, told in plain lines: for a log, a screen reader, or a machine without a terminal.
import type { Live } from '../core/live.ts'
import type { Part } from '../core/part.ts'
import { clockText, linkWords } from '../terminal/words.ts'
import { strokeLine } from './describe-run.ts'

/** Prints a line for each new step, stroke, alarm and change of a cable; nothing while nothing changes. */
export function createPlainLines(print: (line: string) => void): (live: Live, part: Part) => void {
  let [next, alarm, strokes] = ['', '', 0]
  let links: Live['links'] = []
  return (live, part) => {
    const tell = (text: string) => print(`${clockText(live.elapsedS).padStart(7)}  ${text}`)
    for (const { port, state } of live.links)
      if (links.find((link) => link.port === port)?.state !== state) tell(`${port}: ${linkWords[state].word}`)
    links = live.links
    if ((live.alarm ?? '') !== alarm) tell(live.alarm ?? 'All is well again.')
    alarm = live.alarm ?? ''
    const cycles = live.result?.cycles ?? []
    for (const cycle of cycles.slice(strokes)) tell(strokeLine(cycle, part))
    strokes = cycles.length
    if (live.next !== next) tell(live.next)
    next = live.next
  }
}
