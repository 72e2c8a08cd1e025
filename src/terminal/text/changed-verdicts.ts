// Verdicts that another version of the program would change into the sentences that tell them.
import type { Verdict } from '../../core/model/result.ts'
import { cleanText } from './text.ts'
import { verdictWords } from './words.ts'

type Changed = { name: string; was: Verdict; now: Verdict }

/** One sentence for the foot of a screen. */
export function changedSummary(changed: readonly Changed[]): string {
  const count = changed.length === 1 ? 'One recorded verdict changes' : `${changed.length} recorded verdicts change`
  return `${count} with this version; Recordings lists ${changed.length === 1 ? 'it' : 'them'}.`
}

/** A paragraph for each, newest first; `done`: all recordings were recalculated. */
export function changedTexts(changed: readonly Changed[], version: string, done: boolean): string[] {
  return [
    `makebreak ${version} reads these recordings differently. What was recorded stays in each of them.`,
    '',
    ...changed.map(
      ({ name, was, now }) => `${cleanText(name)}: ${verdictWords[was].word} then, ${verdictWords[now].word} now.`,
    ),
    ...(done ? [] : ['', 'Older recordings are still to be recalculated.']),
  ]
}
