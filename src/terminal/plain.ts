// The states of a run, one after the other, into plain lines: one line an event, for a log, a pipe or a screen reader.
import type { Live } from '../core/live.ts'
import { type Part, ratingOf } from '../core/part.ts'
import type { CycleResult } from '../core/result.ts'
import { liveStepPa, stepText } from './pressure-text.ts'
import { cleanText } from './text.ts'
import { verdictLines } from './verdict-lines.ts'
import { clockText, cycleWord, effectWords, linkWords, phaseWords } from './words.ts'

/**
 * Takes each state of a run of `part` and writes what is new in it: phases with the next step, links, alarms, trips,
 * cycles, findings, and once the run has ended the whole verdict. A state that brings nothing new writes nothing.
 */
export function createPlain(write: (line: string) => void, part: Part): (live: Live) => void {
  const { unit } = ratingOf(part)
  const stepPa = liveStepPa(part) / 10
  const amount = (pa: number | null) => {
    if (pa === null) return 'not determined'
    const own = `${stepText(pa, stepPa, unit)} ${unit}`
    return unit === 'Pa' ? own : `${own} (${stepText(pa, stepPa, 'Pa')} Pa)`
  }
  const cycleText = (c: CycleResult) =>
    `Stroke ${c.stroke}: make ${amount(c.makePa)}, break ${amount(c.breakPa)}; ${cycleWord(c)}.`

  let phase: Live['phase'] | null = null
  let alarm: string | null = null
  let lastTripS = Number.NEGATIVE_INFINITY
  let judged = false
  const links = new Map<string, string>()
  const cycles = new Map<number, string>()
  const findings = new Set<string>()

  return (live) => {
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
    for (const trip of live.trips) {
      if (trip.tS <= lastTripS) continue
      lastTripS = trip.tS
      say(`Stroke ${trip.stroke}: ${trip.transition} at ${amount(trip.pressurePa)}.`)
    }
    for (const cycle of live.result?.cycles ?? []) {
      // Numbers of a stroke settle as later ones come; it is told again only when it starts or ceases to count.
      const state = cycleWord(cycle)
      if (cycles.get(cycle.stroke) === state) continue
      cycles.set(cycle.stroke, state)
      say(cycleText(cycle))
    }
    for (const finding of live.result?.findings ?? []) {
      if (findings.has(finding.code)) continue
      findings.add(finding.code)
      say(`Finding, ${effectWords[finding.effect].word}: ${cleanText(finding.code)}: ${cleanText(finding.text)}`)
    }
    if (live.phase !== phase) {
      phase = live.phase
      say(`Phase: ${phaseWords[phase]}.`)
      if (phase !== 'ended') say(`Next: ${cleanText(live.next)}`)
    }
    if (phase === 'ended' && live.result !== null && !judged) {
      judged = true
      for (const text of verdictLines(live.result, part)) write(text)
    }
  }
}
