// What a program said when a recording was made, and what is said of it today, into one sentence where the two differ.
import type { Result, Verdict } from '../../core/model/result.ts'
import { cleanText } from './text.ts'
import { verdictWords } from './words.ts'

/** Such as `recorded PASS by 0.1.0, now UNDECIDED`; empty where both say the same, or nothing was recorded. */
export function recordedText({ recorded, verdict }: Pick<Result, 'recorded' | 'verdict'>): string {
  if (recorded === null || recorded.verdict === verdict) return ''
  const by = recorded.software === null ? '' : ` by ${cleanText(recorded.software)}`
  return `recorded ${verdictWords[recorded.verdict].word}${by}, now ${verdictWords[verdict].word}`
}

/** What was said at the time, such as `simulated PASS`. */
export function recordedVerdict(verdict: Verdict | null, simulated: boolean): string {
  return `${simulated ? 'simulated ' : ''}${verdict === null ? 'without a verdict' : verdictWords[verdict].word}`
}
