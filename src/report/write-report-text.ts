// A report into plain text of at most 80 columns: for a screen reader, a mail, a printer without fonts.
import { type Block, endOfReport, notRecorded, type Report } from './model/report.ts'

const columns = 80
const indent = 2

/** Ends in a line feed. Where the report has a stamp it frames the text and comes before every section. */
export function writeReportText({ title, subject, shop, stamp, verdict, sections, foot }: Report): string {
  const banner = stamp === null ? [] : [`*** ${stamp} *** ${stamp} *** ${stamp} ***`, '']
  const whose = [shop.name, shop.address].flatMap((line) => (line === null ? [] : wrap(line, 0)))
  const head = whose.length === 0 ? [] : [...whose, '']
  return [
    ...banner,
    ...head,
    title.toUpperCase(),
    ...wrap(subject, 0),
    '',
    ...(verdict === null ? [] : [`Verdict: ${verdict.word}`, ...verdict.sentences.flatMap((s) => wrap(s, 0)), '']),
    ...sections.flatMap(({ heading, blocks }) => [
      ...banner,
      heading,
      '-'.repeat(heading.length),
      ...blocks.flatMap(blockLines),
      '',
    ]),
    ...banner,
    ...wrap(foot, 0),
    endOfReport,
    '',
  ].join('\n')
}

function blockLines(block: Block): string[] {
  switch (block.kind) {
    case 'facts':
      return block.facts.flatMap(({ label, value }) => wrap(`${label}: ${value ?? notRecorded}`, indent))
    case 'sentences':
      return block.sentences.flatMap((sentence) => wrap(sentence, indent))
    case 'table':
      return tableLines(block.head, block.rows)
    case 'drawing':
      return wrap(`${block.says}: see the PDF or the HTML.`, indent)
  }
}

/** Columns side by side where they fit, a unit below its name; else each row as a list of its cells. */
function tableLines(head: readonly string[], rows: readonly (readonly string[])[]): string[] {
  const heads = [head.map((cell) => cell.split(', ')[0]!), head.map((cell) => cell.split(', ')[1] ?? '')]
  const all = [...(heads[1]!.some((unit) => unit !== '') ? heads : [head]), ...rows]
  const widths = head.map((_, i) => Math.max(...all.map((row) => lengthOf(row[i] ?? ''))))
  const gap = 2
  if (widths.reduce((sum, width) => sum + width + gap, 0) <= columns) {
    const line = (row: readonly string[]) =>
      row.map((cell, i) => cell + ' '.repeat(widths[i]! - lengthOf(cell) + gap)).join('')
    return all.map((row) => `${' '.repeat(indent)}${line(row)}`.trimEnd())
  }
  return rows.flatMap(([name = '', ...cells]) => [
    ...wrap(`${head[0]} ${name}`, indent),
    ...cells.flatMap((cell, i) => wrap(`${head[i + 1]}: ${cell}`, 2 * indent)),
  ])
}

const lengthOf = (text: string) => [...text].length

/** `text` in rows of at most 80 characters behind `by` spaces, further ones two deeper; a longer word is cut. */
function wrap(text: string, by: number): string[] {
  const rows: string[] = []
  let row = ''
  const room = () => columns - by - (rows.length > 0 ? 2 : 0)
  for (const word of text.split(' ')) {
    const joined = row === '' ? word : `${row} ${word}`
    if (lengthOf(joined) <= room()) {
      row = joined
      continue
    }
    if (row !== '') rows.push(row)
    let chars = [...word]
    while (chars.length > room()) {
      rows.push(chars.slice(0, room()).join(''))
      chars = chars.slice(room())
    }
    row = chars.join('')
  }
  rows.push(row)
  return rows.map((each, i) => `${' '.repeat(by + (i > 0 ? 2 : 0))}${each}`)
}
