// Tags into a PDF: each on a page of its own size, or many on sheets with lines to cut along.
import type { Paper } from '../../core/model/paper-forms.ts'
import type { Tag } from '../model/tag.ts'
import { openPdf, type Pdf } from '../pdf-document.ts'
import { dataMatrix } from './data-matrix.ts'
import type { Outlines } from './outlines.ts'
import { tagLayout, tagMm } from './tag-layout.ts'

const pointsPerMm = 72 / 25.4

/** One on a page `widthMm` wide. */
export async function writeTagPdf(tag: Tag, outlines: Outlines, widthMm: number = tagMm.width): Promise<Buffer> {
  const pdf = openPdf(tag.title, tag.at, 'a4')
  const scale = (widthMm / tagMm.width) * pointsPerMm
  pdf.doc.addPage({ size: [tagMm.width * scale, tagMm.height * scale], margin: 0 })
  drawTag(pdf, tag, outlines, 0, 0, scale)
  return pdf.finish()
}

// Millimetres: what every printer keeps free, and room for the scissors. Common practice, no source.
const margin = 10
const gap = 4

const pageMm = { a4: { width: 210, height: 297 }, letter: { width: 215.9, height: 279.4 } } as const

/** How many lie beside each other on a page of this length. */
const fitting = (lengthMm: number, sizeMm: number) => Math.floor((lengthMm - 2 * margin + gap) / (sizeMm + gap))

/** How many tags a sheet has in a row, and in all. */
export function sheetPlaces(paper: Paper): { columns: number; all: number } {
  const columns = fitting(pageMm[paper].width, tagMm.width)
  return { columns, all: columns * fitting(pageMm[paper].height, tagMm.height) }
}

/** `used`: places of the first sheet, row by row, that are left free; fewer than there are. */
export async function writeTagSheet(
  tags: readonly Tag[],
  outlines: Outlines,
  paper: Paper,
  used: number,
): Promise<Buffer> {
  const newest =
    tags
      .map(({ at }) => at)
      .toSorted()
      .at(-1) ?? ''
  const pdf = openPdf(`Tags of ${tags.length} parts`, newest, paper)
  const { doc } = pdf
  const { columns, all } = sheetPlaces(paper)
  tags.forEach((tag, i) => {
    const place = (i + used) % all
    if (i === 0 || place === 0) doc.addPage()
    const x = (margin + (place % columns) * (tagMm.width + gap)) * pointsPerMm
    const y = (margin + Math.floor(place / columns) * (tagMm.height + gap)) * pointsPerMm
    doc.markContent('Artifact', { type: 'Layout' })
    doc.lineWidth(0.3).dash(1.5, { space: 1.5 })
    doc.rect(x, y, tagMm.width * pointsPerMm, tagMm.height * pointsPerMm).stroke('#888888')
    doc.undash().endMarkedContent()
    drawTag(pdf, tag, outlines, x, y, pointsPerMm)
  })
  return pdf.finish()
}

/** Points from the upper left corner of the page; `scale`: points a millimetre of the tag. */
function drawTag(pdf: Pdf, tag: Tag, outlines: Outlines, x: number, y: number, scale: number): void {
  const { doc } = pdf
  const section = doc.struct('Sect')
  doc.addStructure(section)
  for (const mark of tagLayout(tag, outlines)) {
    const [atX, atY] = [x + mark.x * scale, y + mark.y * scale]
    if (mark.kind === 'text') {
      pdf.use(mark.weight, mark.sizeMm * scale)
      const element = doc.struct('P')
      section.add(element)
      const content = doc.markStructureContent('P')
      doc.fillColor(mark.white ? '#ffffff' : '#000000')
      // With features, even none, the text is laid out whole: word by word those of Arabic would come in the wrong order.
      doc.text(mark.text, atX, atY, { lineBreak: false, baseline: 'alphabetic', features: [] })
      doc.endMarkedContent()
      element.add(content)
      element.end()
    } else if (mark.kind === 'box') {
      doc.markContent('Artifact', { type: 'Layout' })
      doc.rect(atX, atY, mark.width * scale, mark.height * scale).fill('#000000')
      doc.endMarkedContent()
    } else {
      const figure = doc.struct('Figure', { alt: `Data Matrix: ${tag.code}` })
      section.add(figure)
      const content = doc.markStructureContent('Figure')
      drawCode(pdf, tag.code, atX, atY, mark.side * scale)
      doc.endMarkedContent()
      figure.add(content)
      figure.end()
    }
  }
  section.end()
}

/** Dark modules of a row that touch are one box: between two a printer or a screen would show a hair of white. */
function drawCode({ doc }: Pdf, text: string, x: number, y: number, side: number): void {
  const modules = dataMatrix(text)
  const module = side / (modules.length + 2)
  modules.forEach((row, i) => {
    for (let from = 0; from < row.length; from++) {
      if (!row[from]) continue
      let to = from
      while (row[to + 1]) to++
      doc.rect(x + (from + 1) * module, y + (i + 1) * module, (to + 1 - from) * module, module)
      from = to
    }
  })
  doc.fill('#000000')
}
