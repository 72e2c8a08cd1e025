// The states of a run, one after the other, into plain lines: one line an event, for a log, a pipe or a screen reader.

import { type Part, ratingOf } from '../../core/model/part.ts'
import type { CycleResult } from '../../core/model/result.ts'
import { pressureText, tripStep } from '../../core/text/pressure-text.ts'
import type { Live } from '../../core/view/live.ts'
import { cleanText } from './text.ts'
import { verdictLines } from './verdict-lines.ts'
import { clockText, cycleWord, effectWords, linkWords, phaseWords } from './words.ts'

/**
 * Takes each state of a run, with its part, and writes what is new in it: links, alarms, strokes with their trips,
 * findings, phases, next steps, and once the run has ended the whole verdict. A state that brings nothing new writes
 * nothing.
 */
export function createPlain(write: (line: string) => void): (live: Live, part: Part, simulated?: boolean) => void {
  let phase: Live['phase'] | null = null
  let next: string | null = null
  let alarm: string | null = null
  let judged = false
  const links = new Map<string, string>()
  const strokes = new Map<number, string>()
  const findings = new Set<string>()

  return (live, part, simulated = false) => {
    const say = (text: string) => write(`${clockText(live.elapsedS)}  ${text}`)
    for (const link of live.links) {
      if (links.get(link.port) === link.state) continue
      links.set(link.port, link.state)
      say(`Link: ${link.port} ${linkWords[link.state].word}.`)
    }
    if (live.alarm !== alarm) {
      alarm = live.alarm
      say(alarm === null ? 'The alarm is over.' : `ALARM: ${cleanText(alarm)}`)
    }
    for (const cycle of live.result?.cycles ?? []) {
      // Numbers of a stroke settle as later ones come; it is told again only when it starts or ceases to count.
      const word = cycleWord(cycle)
      if (strokes.get(cycle.stroke) === word) continue
      strokes.set(cycle.stroke, word)
      say(strokeText(cycle, part))
    }
    for (const finding of live.result?.findings ?? []) {
      if (findings.has(finding.code)) continue
      findings.add(finding.code)
      say(`Finding, ${effectWords[finding.effect].word}: ${cleanText(finding.text)} (${cleanText(finding.code)})`)
    }
    if (live.phase !== phase) {
      phase = live.phase
      say(`Phase: ${phaseWords[phase]}.`)
    }
    if (live.next !== next && phase !== 'ended') {
      next = live.next
      say(`Next: ${cleanText(next)}`)
    }
    if (phase === 'ended' && live.result !== null && !judged) {
      judged = true
      for (const text of verdictLines(live.result, part, { ...live, simulated })) write(text)
    }
  }
}

/** One stroke with its trips, and whether it counts. */
export function strokeText(cycle: CycleResult, part: Part): string {
  const { unit, ratedPa } = ratingOf(part)
  const trip = (name: string, pa: number | null) =>
    `${name} ${pa === null ? 'not seen' : pressureText(pa, unit, tripStep(ratedPa))}`
  return `Stroke ${cycle.stroke}: ${trip('make', cycle.makePa)}, ${trip('break', cycle.breakPa)}; ${cycleWord(cycle)}.`
}
