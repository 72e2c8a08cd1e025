// A lesson: what of a test is shown while its fault is hidden, and what is said once the learner has named one.

import { type Part, ratingOf } from '../../core/model/part.ts'
import type { CycleResult, Estimate, Result } from '../../core/model/result.ts'
import { allowanceText, pressureText, readingStep, tripStep, uncertainText } from '../../core/text/pressure-text.ts'
import type { Live } from '../../core/view/live.ts'
import { cleanText } from '../text/text.ts'
import { reasonOf } from '../text/verdict-reason.ts'
import { verdictWords } from '../text/words.ts'

/**
 * One fault of the list, as the learner sees it. `side`: on which side of its limits the part trips by it, which is what makes it
 * safe or not; null where that is not its fault.
 */
export type Fault = { name: string; title: string; findings: readonly string[]; side: 'low' | 'high' | null }

export type Score = { named: number; rounds: number }

const saidInstead = 'Findings are hidden in a lesson. Watch pressure, contact and cycles; n names the fault.'

/** `live` without what would name the fault: findings, alarms, advice, why a cycle does not count, the verdict and each limit's outcome. */
export function hideFault(live: Live): Live {
  const { result } = live
  const over = live.phase === 'ended'
  return {
    ...live,
    phase: over ? 'closing-zero' : live.phase,
    next: over ? 'The test is over. n names the fault; ← → look again.' : 'Watch. n names the fault.',
    alarm: null,
    guide: null,
    result: result && {
      ...result,
      verdict: 'not-assessed',
      limits: [],
      findings: [{ code: 'hidden', effect: 'note', text: saidInstead, evidence: {} }],
      cycles: result.cycles.map(hideWhy),
    },
  }
}

const hideWhy = (cycle: CycleResult): CycleResult => ({
  ...cycle,
  why: cycle.why === 'first-stroke' || cycle.why === 'precondition' ? cycle.why : null,
})

/** Whether what was named is the fault there was, or one with the same findings; the wrong side of the limits is never close. */
export function grade(named: Fault, truth: Fault): 'right' | 'close' | 'wrong' {
  if (named.name === truth.name) return 'right'
  const same = named.findings.length > 0 && named.findings.join() === truth.findings.join() && named.side === truth.side
  return same ? 'close' : 'wrong'
}

/** Only what was named outright counts. */
export const scored = ({ named, rounds }: Score, how: ReturnType<typeof grade>): Score => ({
  named: named + (how === 'right' ? 1 : 0),
  rounds: rounds + 1,
})

export type Revealed = {
  named: Fault
  truth: Fault
  result: Result
  part: Part
  /** Where the diaphragm really moved, Pa; null where it never does. */
  truePa: { makePa: number | null; breakPa: number | null }
  score: Score
}

/** Paragraphs that tell the fault, what the streams showed of it, what follows, and the score. */
export function revealTexts({ named, truth, result, part, truePa, score }: Revealed): string[] {
  const how = grade(named, truth)
  const verdict = {
    right: 'Right.',
    close: `Close: you said "${named.title}" The findings are the same; what differs is below.`,
    wrong: `No: you said "${named.title}"`,
  }[how]
  const explained = result.findings.map(({ text, code }) => `${code}: ${text}`)
  // What a finding has told already is not told again as the reason.
  const reason = result.findings
    .reduce((text, finding) => text.replace(cleanText(finding.text), ''), reasonOf(result, part))
    .trim()
  return [
    verdict,
    '',
    `It was: ${truth.title}`,
    ...(explained.length > 0
      ? ['', 'What the recording shows of it:', ...explained]
      : ['', 'No finding names it: it shows in the numbers or not at all.']),
    '',
    `The verdict is ${verdictWords[result.verdict].word}. ${reason}`.trim(),
    `Make: ${besideTruth('it never made', truePa.makePa, result.make, part)}.`,
    `Break: ${besideTruth('it never broke', truePa.breakPa, result.break, part)}.`,
    '',
    scoreText(score),
  ]
}

/** `2 of 3 faults named`. */
export const scoreText = ({ named, rounds }: Score): string =>
  `${named} of ${rounds} ${rounds === 1 ? 'fault' : 'faults'} named, since the program was started.`

/** What was true beside what was measured; `never` where it did not happen. */
function besideTruth(never: string, truePa: number | null, measured: Estimate, part: Part): string {
  const { unit, ratedPa } = ratingOf(part)
  const real = truePa === null ? never : `true ${pressureText(truePa, unit, tripStep(ratedPa))}`
  if (measured.valuePa === null) return `${real}, none was measured`
  const allowed = allowanceText(measured, unit, readingStep(ratedPa))
  return `${real}, measured ${uncertainText(measured, unit, readingStep(ratedPa))}${allowed === null ? '' : `, or up to ${allowed}`}`
}
