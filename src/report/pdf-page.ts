// Rows, drawings and rules into places on the pages of a PDF, from the top down, in one column or two, each with its tag for those who hear it read.
import type { Picture } from './decode-png.ts'
import type { Weight } from './font-file.ts'
import type { Pdf } from './pdf-document.ts'
import { breakRuns, type Piece, placedWords, type Run } from './pdf-runs.ts'

export type Tag = 'H1' | 'H2' | 'P' | 'TH' | 'TD'
export type Element = PDFKit.PDFStructureElement

export type PdfPage = {
  /** The column that is written in: its left edge and its width, in points. */
  left: () => number
  width: () => number
  y: () => number
  space: (height: number) => void
  /** The next column, else a new page, where less than `height` is left of this one. */
  ensure: (height: number) => void
  room: () => number
  /** From here on so many columns beside each other; they go on so over the pages that follow. */
  columns: (count: number) => void
  /** `runs` as the rows that they take between `indent` and `width`; not written yet. */
  rowsOf: (runs: readonly Run[], size: number, width?: number) => Piece[][]
  /** How wide a row is. */
  widthOf: (row: readonly Piece[], size: number) => number
  /** A paragraph; it goes on in the next column where this one is full. */
  paragraph: (tag: Tag, runs: readonly Run[], size: number) => void
  /** A heading, behind which the paragraph that follows begins in its row. */
  headed: (heading: Run, size: number) => void
  /** Rows at a place, as one element below `parent`; without one they are not read. */
  rows: (
    tag: Tag,
    rows: readonly Piece[][],
    at: { x: number; y: number; size: number },
    parent?: Element | null,
  ) => void
  hang: (parent: Element | null, tag: string) => Element
  /** What is drawn for the eye alone. */
  artifact: (draw: () => void) => void
  rule: () => void
  /** A frame about what `draw` writes, which stays on one page. */
  framed: (draw: () => void) => void
  /** Drawings beside each other in the width of the column. */
  figures: (drawings: readonly Drawing[], height: number) => void
  /** At a place, `height` high; its width. */
  picture: (
    picture: Picture,
    at: { right: number; y: number; height: number; mostWidth: number },
    says: string,
  ) => number
  /** Stamp, foot and `page n of m` onto every page; nothing is written after it. */
  finishPages: (stamp: string | null, foot: string, size: number) => void
}

export type Drawing = { says: string; draw: (x: number, y: number, width: number) => void }

/** 10 mm, more than any desktop printer leaves white; the foot has its own room below. Common practice, no source. */
const margin = 28
const footRoom = 12
const gutter = 13
export const lineShare = 1.19

export function createPdfPage(pdf: Pdf): PdfPage {
  const { doc } = pdf
  const root = doc.struct('Document')
  doc.addStructure(root)
  doc.addPage()
  const whole = doc.page.width - 2 * margin
  const bottom = doc.page.height - margin - footRoom
  let [y, count, column, top, inset] = [margin, 1, 0, margin, 0]

  const width = () => (whole - (count - 1) * gutter) / count - 2 * inset
  const left = () => margin + column * (width() + gutter) + inset
  const room = () => bottom - y

  /** The colour that texts are written in; null where something else may have set another. */
  let inkNow: string | null = null

  function ensure(height: number): void {
    if (height <= room() || y === top) return
    if (column < count - 1) column++
    else {
      doc.addPage()
      inkNow = null
      column = 0
      top = margin
    }
    y = top
  }

  function hang(parent: Element | null, tag: string): Element {
    const element = doc.struct(tag)
    ;(parent ?? root).add(element)
    return element
  }

  function artifact(draw: () => void): void {
    inkNow = null
    doc.markContent('Artifact', { type: 'Layout' })
    draw()
    doc.endMarkedContent()
    inkNow = null
  }

  const shownRuns = (runs: readonly Run[]) => runs.map((run) => ({ ...run, text: pdf.shown(run.text) }))
  const rowsOf = (runs: readonly Run[], size: number, most = width()) =>
    breakRuns(shownRuns(runs), most, size, pdf.measure)

  const widthOf = (row: readonly Piece[], size: number) => {
    const last = row.at(-1)
    return last === undefined ? 0 : last.x + pdf.measure(last.weight, size, last.text)
  }

  function writeRow(row: readonly Piece[], x: number, atY: number, size: number): void {
    for (const piece of row) {
      pdf.use(piece.weight, size)
      if (piece.colour !== inkNow) doc.fillColor(piece.colour)
      inkNow = piece.colour
      let atX = x + piece.x
      const words = placedWords(piece.text)
      for (const [i, text] of words.entries()) {
        doc.text(text, atX, atY, { lineBreak: false })
        atX += pdf.measure(piece.weight, size, /^[,.;:]/.test(words[i + 1] ?? '') ? text : `${text} `)
      }
    }
  }

  function rows(
    tag: Tag,
    list: readonly Piece[][],
    { x, y: atY, size }: { x: number; y: number; size: number },
    parent?: Element | null,
  ): void {
    const draw = () => {
      for (const [i, row] of list.entries()) writeRow(row, x, atY + i * size * lineShare, size)
    }
    if (parent === null) {
      artifact(draw)
      return
    }
    const element = hang(parent ?? null, tag)
    const content = doc.markStructureContent(tag)
    draw()
    doc.endMarkedContent()
    element.add(content)
    element.end()
  }

  /** How far the heading reaches into the row that comes next. */
  let runIn = 0

  function headed(heading: Run, size: number): void {
    ensure(size * lineShare)
    const [row = [], ...more] = rowsOf([heading], size)
    if (more.length > 0) {
      paragraph('H2', [heading], size)
      return
    }
    rows('H2', [row], { x: left(), y, size })
    runIn = widthOf(row, size) + size * 0.7
  }

  function paragraph(tag: Tag, runs: readonly Run[], size: number): void {
    const element = hang(null, tag)
    const high = size * lineShare
    const list = breakRuns(shownRuns(runs), width(), size, pdf.measure, runIn)
    runIn = 0
    for (let from = 0; from < list.length; ) {
      ensure(high)
      const fits = Math.max(1, Math.min(list.length - from, Math.floor(room() / high + 1e-6)))
      const content = doc.markStructureContent(tag)
      for (const row of list.slice(from, from + fits)) {
        writeRow(row, left(), y, size)
        y += high
      }
      doc.endMarkedContent()
      element.add(content)
      from += fits
    }
    element.end()
  }

  function rule(): void {
    artifact(() =>
      doc
        .lineWidth(0.5)
        .moveTo(left(), y - 1)
        .lineTo(left() + width(), y - 1)
        .stroke('#98a2aa'),
    )
  }

  function framed(draw: () => void): void {
    ensure(80)
    const from = y
    y += 4
    inset = 7
    draw()
    inset = 0
    y += 3
    // Where its text went on to a second page there is nothing to frame.
    if (y > from)
      artifact(() =>
        doc
          .lineWidth(1.2)
          .rect(left(), from, width(), y - from)
          .stroke('#000000'),
      )
    y += 4
  }

  function figure(says: string, draw: () => void): void {
    const element = doc.struct('Figure', { alt: pdf.shown(says) })
    root.add(element)
    const content = doc.markStructureContent('Figure')
    draw()
    doc.endMarkedContent()
    element.add(content)
    element.end()
    inkNow = null
  }

  function figures(drawings: readonly Drawing[], height: number): void {
    ensure(height)
    const each = (width() - (drawings.length - 1) * gutter) / drawings.length
    for (const [i, { says, draw }] of drawings.entries()) {
      figure(says, () => draw(left() + i * (each + gutter), y, each))
    }
    y += height + 2
  }

  function picture(
    given: Picture,
    at: { right: number; y: number; height: number; mostWidth: number },
    says: string,
  ): number {
    const scale = Math.min(at.height / given.height, at.mostWidth / given.width)
    const wide = given.width * scale
    figure(says, () => pdf.image(given, at.right - wide, at.y, wide, given.height * scale))
    return wide
  }

  function finishPages(stamp: string | null, foot: string, size: number): void {
    root.end()
    const { start, count: pages } = doc.bufferedPageRange()
    for (let i = start; i < start + pages; i++) {
      doc.switchToPage(i)
      artifact(() => {
        if (stamp !== null) across(stamp)
        const look = { weight: 'plain' as Weight, colour: '#4a545c' }
        const number = `page ${i - start + 1} of ${pages}`
        const atY = doc.page.height - margin - size
        doc.fillOpacity(1)
        const wide = pdf.measure('plain', size, number)
        const said = [stamp, foot].filter((piece) => piece !== null).join(' · ')
        const [row = []] = rowsOf([{ text: said, ...look }], size, whole - wide - 12)
        writeRow(row, margin, atY, size)
        writeRow([{ text: number, ...look, x: whole - wide }], margin, atY, size)
      })
    }
  }

  /** From the lower left to the upper right, as large as the page has room for, through which the text still shows. */
  function across(stamp: string): void {
    const [pageWidth, pageHeight] = [doc.page.width, doc.page.height]
    const size = Math.min(84, (10 * 0.85 * Math.hypot(pageWidth, pageHeight)) / pdf.measure('bold', 10, stamp))
    pdf.use('bold', size)
    doc
      .save()
      .rotate(-50, { origin: [pageWidth / 2, pageHeight / 2] })
      .fillColor('#000000', 0.14)
    doc.text(stamp, (pageWidth - pdf.measure('bold', size, stamp)) / 2, (pageHeight - size) / 2, { lineBreak: false })
    doc.restore()
  }

  return {
    ...{ left, width, ensure, room, rowsOf, widthOf, paragraph, headed, rows },
    ...{ rule, hang, artifact, framed, figures, picture, finishPages },
    y: () => y,
    space(height) {
      y += height
    },
    columns(wanted) {
      // Columns that follow others begin below all of them.
      if (column > 0) ensure(Number.POSITIVE_INFINITY)
      count = wanted
      column = 0
      top = y
    },
  }
}
