// Judged recordings of several parts into one page that lists them, each with its own verdict and the digest of its recording.
import { readingStep, uncertainText } from '../../core/text/pressure-text.ts'
import { timeText } from './head-sections.ts'
import { limitsOfPaper } from './honest-words.ts'
import { outsideText } from './outside-text.ts'
import { notRecorded, type Report } from './report.ts'
import type { ReportInput } from './report-input.ts'
import { stampOf, verdictWord } from './standing.ts'

/** The page for `inputs`, of which there is at least one, in the order given. */
export function summaryOf(inputs: readonly ReportInput[]): Report {
  const stamps = inputs.map(stampOf)
  const rows = inputs.map((input) => {
    const { part, at } = input.analysis.setup.start
    const { unit, ratedPa } = input.analysis.setup.rating
    const value = (name: 'make' | 'break') => uncertainText(input.result[name], unit, readingStep(ratedPa))
    const stamp = stampOf(input)
    return [
      outsideText(part.serial) ?? notRecorded,
      outsideText(part.model) ?? part.kind,
      timeText(at) ?? notRecorded,
      [verdictWord(input), ...(stamp !== null && stamp !== 'SIMULATED' ? [stamp] : [])].join(': '),
      value('make'),
      value('break'),
      input.sha256.slice(0, 16),
    ]
  })
  const count = (verdict: string) => inputs.filter(({ result }) => result.verdict === verdict).length
  const { verdictWords } = inputs[0]!.words
  const counts = (['pass', 'fail', 'undecided', 'void', 'not-assessed'] as const)
    .filter((verdict) => count(verdict) > 0)
    .map((verdict) => `${verdictWords[verdict].word} ${count(verdict)}`)
  return {
    title: 'Test report, summary',
    subject: `${inputs.length} recordings: ${counts.join(', ')}`,
    // One simulated recording among real ones is enough to keep the page from being handed on as it is.
    stamp: stamps.includes('SIMULATED') ? 'SIMULATED' : null,
    verdict: null,
    sections: [
      {
        heading: 'Parts',
        blocks: [
          { kind: 'table', head: ['Serial', 'Model', 'Tested', 'Verdict', 'Make ± U', 'Break ± U', 'sha256'], rows },
          { kind: 'sentences', sentences: ['Each part has a report of its own; this page does not take its place.'] },
        ],
      },
      { heading: 'What this report is, and what it is not', blocks: [{ kind: 'sentences', sentences: limitsOfPaper }] },
    ],
    foot: `summary of ${inputs.length} recordings`,
    at: inputs
      .map(({ analysis }) => analysis.setup.start.at)
      .sort()
      .at(-1)!,
  }
}
