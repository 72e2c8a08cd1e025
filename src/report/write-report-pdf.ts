// A report into a PDF: pages of A4 or letter, each with its stamp, its number and what tells the paper from another.
import type { Paper } from '../core/model/paper-forms.ts'
import { drawSvg, heightOf } from './draw-svg.ts'
import { type Block, endOfReport, type Fact, notRecorded, type Report, type Section } from './model/report.ts'
import { openPdf, type Pdf } from './pdf-document.ts'
import { createPdfPage, lineShare, type PdfPage } from './pdf-page.ts'
import type { Run } from './pdf-runs.ts'
import { drawTable } from './pdf-table.ts'

/** Points. Printed at A5, seven tenths of A4, the small print is as large as that of a label. */
const size = { title: 16, verdict: 12, lead: 7.5, table: 7.2, foot: 6.6 } as const

/** As large as lets a test of ten cycles have one page. */
const fineSizes: Record<Paper, number> = { a4: 6.6, letter: 6.4 }
const [ink, faint] = ['#000000', '#4a545c']

const plain = (text: string, colour = ink): Run => ({ text, weight: 'plain', colour })
const bold = (text: string): Run => ({ text, weight: 'bold', colour: ink })

/** The file: tagged, its title and language set, the same bytes for the same report and paper. */
export async function writeReportPdf(report: Report, paper: Paper): Promise<Buffer> {
  const { title, subject, stamp, verdict, sections, foot, at } = report
  const pdf = openPdf([stamp, title, subject].filter((piece) => piece !== null).join(': '), at, paper)
  const page = createPdfPage(pdf)
  drawHead(page, report)
  if (verdict === null && stamp !== null) page.paragraph('P', [bold(stamp)], size.verdict)
  if (verdict !== null)
    page.framed(() => {
      if (stamp !== null && !verdict.word.includes(stamp)) page.paragraph('P', [bold(stamp)], size.verdict)
      page.paragraph('P', [bold(verdict.word)], size.verdict)
      for (const sentence of verdict.sentences) page.paragraph('P', [plain(sentence)], size.lead)
    })
  for (const section of sections.filter(({ lead }) => lead)) drawLead(page, pdf, section)
  page.space(2)
  page.columns(2)
  const fine = fineSizes[paper]
  for (const section of sections.filter(({ lead }) => !lead)) drawFine(page, pdf, section, fine)
  page.space(3)
  // Only now is known what was printed as a code.
  if (pdf.lacking.size > 0) {
    const codes = [...pdf.lacking].join(', ')
    page.paragraph('P', [plain(`Characters that this font lacks are printed as their code: ${codes}.`)], fine)
  }
  page.paragraph('P', [plain(endOfReport, faint)], fine)
  page.finishPages(stamp, foot, size.foot)
  return pdf.finish()
}

/** The title on the left, whose report it is on the right. */
function drawHead(page: PdfPage, { title, subject, shop }: Report): void {
  const [left, right, top] = [page.left(), page.left() + page.width(), page.y()]
  const half = page.width() / 2
  const logoHeight = 30
  const wide = shop.logo
    ? page.picture(shop.logo.picture, { right, y: top, height: logoHeight, mostWidth: half / 2 }, 'Logo') + 8
    : 0
  const write = (tag: 'H1' | 'P', run: Run, large: number, at: { x: number; y: number }, most: number, end = false) => {
    const rows = page.rowsOf([run], large, most)
    const shifted = rows.map((row) =>
      row.map((piece) => ({ ...piece, x: piece.x + (end ? most - page.widthOf(row, large) : 0) })),
    )
    page.rows(tag, shifted, { ...at, size: large })
    return rows.length * large * lineShare
  }
  let y = top + write('H1', bold(title), size.title, { x: left, y: top }, half)
  y += write('P', plain(subject, faint), size.lead + 1.5, { x: left, y }, half)
  const x = left + half
  let below = top
  if (shop.name !== null) below += write('P', bold(shop.name), size.lead + 2.5, { x, y: below }, half - wide, true)
  if (shop.address !== null) below += write('P', plain(shop.address), size.lead, { x, y: below }, half - wide, true)
  page.space(Math.max(y, below, shop.logo ? top + logoHeight : 0) - top + 4)
}

/** What a customer looks for first: over the whole width, facts in a grid, drawings beside each other. */
function drawLead(page: PdfPage, pdf: Pdf, { heading, blocks }: Section): void {
  const drawings = blocks.filter((block) => block.kind === 'drawing')
  const width = page.width() / Math.max(1, drawings.length) - 7
  const high = Math.max(0, ...drawings.map(({ svg }) => heightOf(svg, width)))
  // A heading alone at the foot of a page heads nothing.
  page.ensure(high + 30)
  page.space(1.5)
  page.paragraph('H2', [bold(heading)], size.lead + 0.5)
  page.space(1.5)
  page.rule()
  for (const block of blocks) {
    if (block.kind === 'facts') drawGrid(page, block.facts)
    else if (block.kind === 'sentences')
      for (const sentence of block.sentences) page.paragraph('P', [plain(sentence)], size.lead)
    else if (block.kind === 'table') drawTable(page, pdf, block.head, block.rows, size.table)
  }
  if (drawings.length > 0)
    page.figures(
      drawings.map(({ says, svg }) => ({ says, draw: (x, y, wide) => drawSvg(pdf, svg, x, y, wide) })),
      high,
    )
}

const inGrid = 4

/** Facts in four columns; one that is too long for its own takes as many as it needs. */
function drawGrid(page: PdfPage, facts: readonly Fact[]): void {
  const gap = 10
  const each = (page.width() - (inGrid - 1) * gap) / inGrid
  const runsOf = ({ label, value }: Fact) => [plain(`${label} `, faint), plain(value ?? notRecorded)]
  const high = size.lead * lineShare
  let cell = 0
  let rowHigh = 0
  const endRow = () => {
    page.space(rowHigh)
    cell = 0
    rowHigh = 0
  }
  for (const fact of facts) {
    const runs = runsOf(fact)
    const wide = (cells: number) => cells * each + (cells - 1) * gap
    const cells = [1, 2, 3, inGrid].find((n) => page.rowsOf(runs, size.lead, wide(n)).length <= 1) ?? inGrid
    if (cell + cells > inGrid) endRow()
    const rows = page.rowsOf(runs, size.lead, wide(cells))
    if (cell === 0) page.ensure(rows.length * high)
    page.rows('P', rows, { x: page.left() + cell * (each + gap), y: page.y(), size: size.lead })
    rowHigh = Math.max(rowHigh, rows.length * high)
    cell += cells
  }
  endRow()
}

/** What that rests on: small, in columns, each fact behind the other, the heading in the first row where that is of text. */
function drawFine(page: PdfPage, pdf: Pdf, { heading, blocks }: Section, fine: number): void {
  page.ensure(3 * fine * lineShare + 4)
  page.space(2)
  const [first] = blocks
  const head = bold(heading)
  if (first?.kind === 'table') page.paragraph('H2', [head], fine)
  else page.headed(head, fine)
  for (const block of blocks) drawFineBlock(page, pdf, block, fine)
}

function drawFineBlock(page: PdfPage, pdf: Pdf, block: Block, fine: number): void {
  if (block.kind === 'facts') {
    const runs = block.facts.flatMap(({ label, value }, i) => [
      plain(label, faint),
      plain(`${value ?? notRecorded}${i < block.facts.length - 1 ? ' ·' : ''}`),
    ])
    page.paragraph('P', runs, fine)
  } else if (block.kind === 'sentences')
    page.paragraph(
      'P',
      block.sentences.map((sentence) => plain(sentence)),
      fine,
    )
  else if (block.kind === 'table') drawTable(page, pdf, block.head, block.rows, fine)
}
