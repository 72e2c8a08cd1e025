// Judged recordings of several parts into one page that lists them, each with its own verdict and the digest of its recording.
import { readingStep, uncertainNumbers } from '../../core/text/pressure-text.ts'
import { shopHead, timeText } from './head-sections.ts'
import { limitsOfPaper } from './honest-words.ts'
import { outsideText } from './outside-text.ts'
import { notRecorded, type Report } from './report.ts'
import type { ReportInput } from './report-input.ts'
import { stampOf } from './standing.ts'

/** The page for `inputs`, of which there is at least one, in the order given. */
export function summaryOf(inputs: readonly ReportInput[]): Report {
  const stamps = inputs.map(stampOf)
  const rows = inputs.map((input) => {
    const { part, at } = input.analysis.setup.start
    const { unit, ratedPa } = input.analysis.setup.rating
    const value = (name: 'make' | 'break') => uncertainNumbers(input.result[name], unit, readingStep(ratedPa))
    return [
      short(outsideText(part.serial) ?? notRecorded),
      short(outsideText(part.model) ?? part.kind),
      timeText(at)?.slice(0, 10) ?? notRecorded,
      standingText(input),
      value('make'),
      value('break'),
      unit,
      input.sha256.slice(0, 12),
    ]
  })
  const count = (verdict: string) => inputs.filter(({ result }) => result.verdict === verdict).length
  const { verdictWords } = inputs[0]!.words
  const counts = (['pass', 'fail', 'undecided', 'void', 'not-assessed'] as const)
    .filter((verdict) => count(verdict) > 0)
    .map((verdict) => `${verdictWords[verdict].word} ${count(verdict)}`)
  return {
    title: 'Test report, summary',
    shop: shopHead(inputs[0]!.shop),
    subject: `${inputs.length} recordings: ${counts.join(', ')}`,
    // One simulated recording among real ones is enough to keep the page from being handed on as it is.
    stamp: stamps.includes('SIMULATED') ? 'SIMULATED' : null,
    verdict: null,
    sections: [
      {
        heading: 'Parts',
        lead: true,
        blocks: [
          {
            kind: 'table',
            head: ['Serial', 'Model', 'Tested', 'Verdict', 'Make ± U', 'Break ± U', 'Unit', 'sha256'],
            rows,
          },
          { kind: 'sentences', sentences: ['Each part has a report of its own; this page does not take its place.'] },
        ],
      },
      {
        heading: 'What this report is, and what it is not',
        lead: true,
        blocks: [{ kind: 'sentences', sentences: limitsOfPaper }],
      },
    ],
    foot: `summary of ${inputs.length} recordings`,
    at: inputs
      .map(({ analysis }) => analysis.setup.start.at)
      .sort()
      .at(-1)!,
  }
}

/** Verdict and stamp together, such as `UNDECIDED: TORN RECORDING`; where the stamp says the verdict, that alone. */
function standingText(input: ReportInput): string {
  const { result, words, analysis } = input
  const { word } = words.verdictWords[result.verdict]
  const stamp = stampOf(input)
  if (analysis.setup.start.simulated) return `SIMULATED ${word}`
  return stamp === null || stamp.startsWith(word) ? (stamp ?? word) : `${word}: ${stamp}`
}

/** So much of a name tells parts of one list apart. */
const mostChars = 32

function short(text: string): string {
  const chars = [...text]
  return chars.length <= mostChars ? text : `${chars.slice(0, mostChars - 1).join('')}…`
}
