// A report into a PDF: pages of A4 or letter, each with its stamp, its number and what tells the paper from another.
import { drawSvg, heightOf } from './draw-svg.ts'
import { type Block, endOfReport, type Fact, notRecorded, type Report } from './model/report.ts'
import { openPdf, type Paper } from './pdf-document.ts'
import { createPdfPage, type PdfPage } from './pdf-page.ts'

const [small, body, large] = [7.5, 8.5, 18]
const [ink, faint] = ['#000000', '#4a545c']

/** The file: tagged, its title and language set, the same bytes for the same report and paper. */
export async function writeReportPdf(report: Report, paper: Paper): Promise<Buffer> {
  const { title, subject, stamp, verdict, sections, foot, at } = report
  const pdf = openPdf([stamp, title, subject].filter((piece) => piece !== null).join(': '), at, paper)
  const page = createPdfPage(pdf)
  page.text('H1', title, { weight: 'bold', size: large })
  page.text('P', subject, { size: body + 1.5, colour: faint })
  page.space(4)
  if (stamp !== null) page.text('P', stamp, { weight: 'bold', size: body + 3 })
  if (verdict !== null) {
    page.framed(() => {
      page.text('P', verdict.word, { weight: 'bold', size: body + 5 })
      for (const sentence of verdict.sentences) page.text('P', sentence, { size: body })
    })
  }
  for (const { heading, blocks } of sections) {
    page.space(5)
    // A heading alone at the foot of a page heads nothing.
    page.ensure(heading === 'Drawings' ? heightOf(page.width) + 30 : 50)
    page.text('H2', heading, { weight: 'bold', size: body + 1.5 })
    page.rule()
    for (const block of blocks) drawBlock(page, pdf, block)
  }
  page.space(6)
  // Only now is known what was printed as a code.
  if (pdf.lacking.size > 0)
    page.text('P', `Characters that this font lacks are printed as their code: ${[...pdf.lacking].join(', ')}.`, {
      size: small,
    })
  page.text('P', endOfReport, { size: small, colour: faint })
  page.finishPages(stamp, foot, small)
  return pdf.finish()
}

function drawBlock(page: PdfPage, pdf: Parameters<typeof createPdfPage>[0], block: Block): void {
  if (block.kind === 'facts') facts(page, block.facts)
  else if (block.kind === 'sentences') for (const sentence of block.sentences) page.text('P', sentence, { size: body })
  else if (block.kind === 'table') page.table(block.head, block.rows, small)
  else page.figure(block.says, heightOf(page.width), (x, y) => drawSvg(pdf, block.svg, x, y, page.width))
}

/** Two beside each other where both are short enough for half the width. */
function facts(page: PdfPage, list: readonly Fact[]): void {
  const told = list.map(({ label, value }): [string, string] => [label, value ?? notRecorded])
  for (let i = 0; i < told.length; i++) {
    const [one, two] = [told[i]!, told[i + 1]]
    const pair = two && page.fitsHalf(one, body) && page.fitsHalf(two, body) ? [one, two] : [one]
    page.pairs(pair, body, faint, ink)
    i += pair.length - 1
  }
}
