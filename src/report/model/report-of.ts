// A judged recording into the test report of one part: each item of ISO/IEC 17025:2017, 7.8.2.1 (used as a checklist) or "not recorded".
import { drawContactPlot } from '../draw-contact-plot.ts'
import { drawPressurePlot } from '../draw-pressure-plot.ts'
import { paperFrame } from '../plot-style.ts'
import { evidenceSections } from './evidence-sections.ts'
import { headSections, shopHead } from './head-sections.ts'
import { limitsOfPaper, wordMap } from './honest-words.ts'
import { methodSections } from './method-sections.ts'
import { outsideText } from './outside-text.ts'
import type { Report } from './report.ts'
import type { ReportInput } from './report-input.ts'
import { besideSections, resultsSection, strokeSection } from './result-sections.ts'
import { stampOf, verdictWord } from './standing.ts'

/** Every number in it is one of the result, of the analysis that it was judged from, or of the recording's first line. */
export function reportOf(input: ReportInput): Report {
  const { said, analysis, curve, number, shop } = input
  const { part, at } = analysis.setup.start
  const serial = outsideText(part.serial)
  const subject = [outsideText(part.model) ?? part.kind, serial ? `serial ${serial}` : 'no serial number']
  const look = { frame: paperFrame, second: shop.unit }
  const numbered = number === null ? 'number not allotted' : `number ${outsideText(number)}`
  return {
    title: 'Test report',
    shop: shopHead(shop),
    subject: subject.join(', '),
    stamp: stampOf(input),
    verdict: {
      word: verdictWord(input),
      sentences: [said.reason, ...(said.thenAndNow ? [`Then and now: ${said.thenAndNow}.`] : []), said.next],
    },
    sections: [
      ...headSections(input),
      resultsSection(input),
      {
        heading: 'Drawings',
        lead: true,
        blocks: [
          { kind: 'drawing', svg: drawPressurePlot(curve, look), says: 'Pressure against time, with trips and limits' },
          {
            kind: 'drawing',
            svg: drawContactPlot(curve, look),
            says: 'Contact against pressure, every cycle as a loop',
          },
        ],
      },
      strokeSection(input),
      ...besideSections(input),
      ...methodSections(input),
      ...evidenceSections(input),
      { heading: 'What the words mean', blocks: [{ kind: 'sentences', sentences: wordMap }] },
      { heading: 'What this report is, and what it is not', blocks: [{ kind: 'sentences', sentences: limitsOfPaper }] },
    ],
    foot: `${numbered} · recording sha256 ${input.sha256.slice(0, 16)}…`,
    at,
  }
}
