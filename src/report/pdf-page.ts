// Texts, tables and drawings into places on the pages of a PDF, from the top down, each with its tag for those who hear it read.
import type { Weight } from './font-file.ts'
import type { Pdf } from './pdf-document.ts'

export type TextLook = { size: number; weight?: Weight; colour?: string }

/** Width is that between the margins; all in points. */
export type PdfPage = {
  width: number
  space: (height: number) => void
  /** A new page where less than `height` is left of this one. */
  ensure: (height: number) => void
  text: (tag: 'H1' | 'H2' | 'P', text: string, look: TextLook) => void
  rule: () => void
  /** A frame about what `draw` writes, which stays on one page. */
  framed: (draw: () => void) => void
  fitsHalf: (fact: [string, string], size: number) => boolean
  /** One or two labels with their values side by side. */
  pairs: (facts: readonly [string, string][], size: number, faint: string, ink: string) => void
  table: (head: readonly string[], rows: readonly (readonly string[])[], size: number) => void
  figure: (says: string, height: number, draw: (x: number, y: number) => void) => void
  /** Stamp, foot and `page n of m` onto every page; nothing is written after it. */
  finishPages: (stamp: string | null, foot: string, size: number) => void
}

// 15 mm, which every printer keeps; the foot has its own room below. Common practice, no source.
const margin = 42.5
const footRoom = 24
const lineShare = 1.3
const cellPad = 3

export function createPdfPage(pdf: Pdf): PdfPage {
  const { doc, shown } = pdf
  const root = doc.struct('Document')
  doc.addStructure(root)
  doc.addPage()
  const width = doc.page.width - 2 * margin
  const bottom = doc.page.height - margin - footRoom
  let y = margin

  const widthOf = (text: string) => doc.widthOfString(text)
  const room = () => bottom - y

  function ensure(height: number): void {
    if (height <= room() || y === margin) return
    doc.addPage()
    y = margin
  }

  /** `text` in rows no wider than `most`, in the font in use; a word that is wider is broken between characters. */
  function rowsOf(text: string, most: number): string[] {
    const rows: string[] = []
    let row = ''
    for (const word of shown(text).split(' ')) {
      const joined = row === '' ? word : `${row} ${word}`
      if (widthOf(joined) <= most) {
        row = joined
        continue
      }
      if (row !== '') rows.push(row)
      row = ''
      if (widthOf(word) <= most) row = word
      else
        for (const char of word) {
          if (row !== '' && widthOf(row + char) > most) {
            rows.push(row)
            row = ''
          }
          row += char
        }
    }
    return [...rows, row]
  }

  /** Writes one row where it belongs and hangs it onto `element`. */
  function put(element: PDFKit.PDFStructureElement, tag: string, text: string, x: number, atY: number): void {
    const content = doc.markStructureContent(tag)
    if (text !== '') doc.text(text, x, atY, { lineBreak: false })
    doc.endMarkedContent()
    element.add(content)
  }

  function artifact(draw: () => void): void {
    doc.markContent('Artifact', { type: 'Layout' })
    draw()
    doc.endMarkedContent()
  }

  function hang(parent: PDFKit.PDFStructureElement, tag: string): PDFKit.PDFStructureElement {
    const element = doc.struct(tag)
    parent.add(element)
    return element
  }

  function text(tag: 'H1' | 'H2' | 'P', words: string, { size, weight = 'plain', colour = '#000000' }: TextLook): void {
    pdf.use(weight, size)
    const element = hang(root, tag)
    for (const row of rowsOf(words, width - 2 * inset)) {
      ensure(size * lineShare)
      pdf.use(weight, size)
      doc.fillColor(colour)
      put(element, tag, row, margin + inset, y)
      y += size * lineShare
    }
    element.end()
    y += 1.5
  }

  let inset = 0
  function framed(draw: () => void): void {
    ensure(110)
    const top = y
    y += 6
    inset = 8
    draw()
    inset = 0
    y += 4
    // Where its text went on to a second page there is nothing to frame.
    if (y > top)
      artifact(() =>
        doc
          .lineWidth(1.2)
          .rect(margin, top, width, y - top)
          .stroke('#000000'),
      )
    y += 3
  }

  const gutter = 12
  const half = (width - gutter) / 2
  const labelWidth = 0.4 * half
  const loneLabelWidth = 0.34 * width

  function fitsHalf([label, value]: [string, string], size: number): boolean {
    pdf.use('plain', size)
    return widthOf(shown(label)) <= labelWidth - 4 && widthOf(shown(value)) <= half - labelWidth
  }

  function pairs(facts: readonly [string, string][], size: number, faint: string, ink: string): void {
    pdf.use('plain', size)
    const labelled = facts.length > 1 ? labelWidth : loneLabelWidth
    const valueWidth = (facts.length > 1 ? half : width) - labelled
    const texts = facts.map(([label, value]) => [rowsOf(label, labelled - 4), rowsOf(value, valueWidth)] as const)
    const high = Math.max(...texts.flat().map((rows) => rows.length))
    ensure(high * size * lineShare)
    pdf.use('plain', size)
    texts.forEach(([labels, values], i) => {
      const x = margin + i * (half + gutter)
      const element = hang(root, 'P')
      doc.fillColor(faint)
      for (const [j, row] of labels.entries()) put(element, 'P', row, x, y + j * size * lineShare)
      doc.fillColor(ink)
      for (const [j, row] of values.entries()) put(element, 'P', row, x + labelled, y + j * size * lineShare)
      element.end()
    })
    y += high * size * lineShare + 1
  }

  function table(head: readonly string[], rows: readonly (readonly string[])[], size: number): void {
    const widths = columnWidths(head, rows, size)
    const places = widths.map((_, i) => margin + widths.slice(0, i).reduce((sum, each) => sum + each, 0))
    const element = hang(root, 'Table')
    const cellsOf = (row: readonly string[], weight: Weight) => {
      pdf.use(weight, size)
      return row.map((cell, i) => rowsOf(cell, widths[i]! - 2 * cellPad + 0.01))
    }
    const heightOf = (cells: string[][]) => Math.max(...cells.map((cell) => cell.length)) * size * lineShare + cellPad
    const write = (cells: string[][], heads: boolean, parent: PDFKit.PDFStructureElement | null) => {
      const high = heightOf(cells)
      const row = parent && hang(parent, 'TR')
      artifact(() => {
        if (heads) doc.rect(margin, y, width, high).fill('#e9edf0')
        doc
          .lineWidth(0.4)
          .moveTo(margin, y + high)
          .lineTo(margin + width, y + high)
          .stroke('#98a2aa')
      })
      cells.forEach((lines, i) => {
        const tag = heads || i === 0 ? 'TH' : 'TD'
        pdf.use(heads || i === 0 ? 'bold' : 'plain', size)
        doc.fillColor('#000000')
        const cell = row && hang(row, tag)
        const draw = (line: string, j: number) => {
          const [x, atY] = [places[i]! + cellPad, y + cellPad / 2 + j * size * lineShare]
          if (cell) put(cell, tag, line, x, atY)
          // A head that is repeated on the next page is read once.
          else artifact(() => line !== '' && doc.text(line, x, atY, { lineBreak: false }))
        }
        lines.forEach(draw)
        cell?.end()
      })
      row?.end()
      y += high
    }
    const heads = cellsOf(head, 'bold')
    ensure(heightOf(heads) + 3 * size * lineShare)
    write(heads, true, element)
    for (const each of rows) {
      const cells = [...cellsOf(each.slice(0, 1), 'bold'), ...cellsOf(each, 'plain').slice(1)]
      if (heightOf(cells) > room()) {
        doc.addPage()
        y = margin
        write(heads, true, null)
      }
      write(cells, false, element)
    }
    element.end()
    y += 4
  }

  /** As wide as the texts ask for; made narrower together where that is too much, wider where there is room. */
  function columnWidths(head: readonly string[], rows: readonly (readonly string[])[], size: number): number[] {
    const wanted = head.map((name, i) => {
      pdf.use('bold', size)
      const words = Math.max(...shown(name).split(' ').map(widthOf))
      if (i > 0) pdf.use('plain', size)
      return Math.max(words, ...rows.map((row) => widthOf(shown(row[i] ?? '')))) + 2 * cellPad + 1
    })
    const sum = wanted.reduce((all, each) => all + each, 0)
    if (sum <= width) return wanted.map((each) => (each * width) / sum)
    // The narrow ones keep what they ask for; the wide ones share what is left.
    let [left, open] = [width, wanted.length]
    for (const each of wanted.toSorted((a, b) => a - b)) {
      if (each > left / open) break
      left -= each
      open--
    }
    return wanted.map((each) => Math.min(each, left / open))
  }

  function figure(says: string, height: number, draw: (x: number, y: number) => void): void {
    ensure(height)
    const element = doc.struct('Figure', { alt: shown(says) })
    root.add(element)
    const content = doc.markStructureContent('Figure')
    draw(margin, y)
    doc.endMarkedContent()
    element.add(content)
    element.end()
    y += height + 4
  }

  function finishPages(stamp: string | null, foot: string, size: number): void {
    root.end()
    const { start, count } = doc.bufferedPageRange()
    for (let i = start; i < start + count; i++) {
      doc.switchToPage(i)
      artifact(() => {
        if (stamp !== null) across(stamp)
        pdf.use('plain', size)
        const number = `page ${i - start + 1} of ${count}`
        const atY = doc.page.height - margin - size
        doc.fillColor('#4a545c', 1)
        const said = rowsOf([stamp, foot].filter((piece) => piece !== null).join(' · '), width - widthOf(number) - 12)
        doc.text(said[0]!, margin, atY, { lineBreak: false })
        doc.text(number, margin + width - widthOf(number), atY, { lineBreak: false })
      })
    }
  }

  /** From the lower left to the upper right, as large as the page has room for, through which the text still shows. */
  function across(stamp: string): void {
    const [pageWidth, pageHeight] = [doc.page.width, doc.page.height]
    pdf.use('bold', 10)
    const size = Math.min(84, (10 * 0.85 * Math.hypot(pageWidth, pageHeight)) / widthOf(stamp))
    pdf.use('bold', size)
    doc
      .save()
      .rotate(-50, { origin: [pageWidth / 2, pageHeight / 2] })
      .fillColor('#000000', 0.14)
    doc.text(stamp, (pageWidth - widthOf(stamp)) / 2, (pageHeight - size) / 2, { lineBreak: false })
    doc.restore()
  }

  return {
    width,
    space: (height) => {
      y += height
    },
    ensure,
    text,
    rule: () =>
      artifact(() =>
        doc
          .lineWidth(0.6)
          .moveTo(margin, y - 1)
          .lineTo(margin + width, y - 1)
          .stroke('#98a2aa'),
      ),
    framed,
    fitsHalf,
    pairs,
    table,
    figure,
    finishPages,
  }
}
