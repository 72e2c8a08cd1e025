// A table into the columns of a PDF page: as wide as its texts ask for, its head again where it goes on.
import type { Weight } from './font-file.ts'
import type { Pdf } from './pdf-document.ts'
import { type Element, lineShare, type PdfPage } from './pdf-page.ts'
import type { Piece } from './pdf-runs.ts'

const padX = 2.5
const padY = 1.3
const ink = '#000000'

export function drawTable(
  page: PdfPage,
  pdf: Pdf,
  head: readonly string[],
  rows: readonly (readonly string[])[],
  size: number,
): void {
  const widths = columnWidths(pdf, head, rows, size, page.width())
  const places = widths.map((_, i) => widths.slice(0, i).reduce((sum, each) => sum + each, 0))
  const table = page.hang(null, 'Table')
  const weightOf = (heads: boolean, i: number): Weight => (heads || i === 0 ? 'bold' : 'plain')
  const cellsOf = (row: readonly string[], heads: boolean) =>
    row.map((text, i) =>
      page.rowsOf([{ text, weight: weightOf(heads, i), colour: ink }], size, widths[i]! - 2 * padX + 0.01),
    )
  const heightOf = (cells: Piece[][][]) => Math.max(1, ...cells.map((cell) => cell.length)) * size * lineShare + padY
  const write = (cells: Piece[][][], heads: boolean, parent: Element | null) => {
    const [high, x, y] = [heightOf(cells), page.left(), page.y()]
    const row = parent && page.hang(parent, 'TR')
    if (heads) page.artifact(() => pdf.doc.rect(x, y, page.width(), high).fill('#e9edf0'))
    below.push(y + high)
    // A head that is repeated in the next column is read once.
    for (const [i, cell] of cells.entries())
      page.rows(heads || i === 0 ? 'TH' : 'TD', cell, { x: x + places[i]! + padX, y: y + padY / 2, size }, row)
    row?.end()
    page.space(high)
  }
  /** The rules below the rows of this column, drawn together. */
  let below: number[] = []
  const rule = () => {
    const [from, to] = [page.left(), page.left() + page.width()]
    page.artifact(() => {
      for (const y of below) pdf.doc.moveTo(from, y).lineTo(to, y)
      pdf.doc.lineWidth(0.4).stroke('#98a2aa')
    })
    below = []
  }
  const heads = cellsOf(head, true)
  page.ensure(heightOf(heads) + 3 * size * lineShare)
  write(heads, true, table)
  for (const each of rows) {
    const cells = cellsOf(each, false)
    if (heightOf(cells) > page.room()) {
      rule()
      page.ensure(heightOf(cells))
      write(heads, true, null)
    }
    write(cells, false, table)
  }
  rule()
  table.end()
  page.space(3)
}

/** As wide as the texts ask for; made narrower together where that is too much, wider where there is room. */
function columnWidths(
  pdf: Pdf,
  head: readonly string[],
  rows: readonly (readonly string[])[],
  size: number,
  width: number,
): number[] {
  const widthOf = (weight: Weight, text: string) => pdf.measure(weight, size, pdf.shown(text))
  const wanted = head.map((name, i) => {
    const words = Math.max(...name.split(' ').map((word) => widthOf('bold', word)))
    const cells = rows.map((row) => widthOf(i === 0 ? 'bold' : 'plain', row[i] ?? ''))
    return cells.reduce((most, each) => Math.max(most, each), words) + 2 * padX + 0.5
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
