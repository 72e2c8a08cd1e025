// A report into one HTML file that needs nothing else: read on any screen, printed from any browser.
import { type Block, endOfReport, notRecorded, type Report } from './model/report.ts'
import { reportStyle } from './report-style.ts'
import { element, escapeXml, textElement } from './svg.ts'

/** The whole file. A stamp lies across each screen and each printed page, and is told in words first of all. */
export function writeReportHtml({ title, subject, shop, stamp, verdict, sections, foot }: Report): string {
  const name = [stamp, title, subject].filter((piece) => piece !== null).join(': ')
  const banner = stamp === null ? '' : textElement('p', { class: 'banner' }, stamp)
  const across =
    stamp === null ? '' : element('div', { class: 'stamp', 'aria-hidden': 'true' }, textElement('span', {}, stamp))
  const drawings = { count: 0 }
  const body = [
    banner,
    shopMarkup(shop),
    textElement('h1', {}, title),
    textElement('p', { class: 'subject' }, subject),
    verdict === null
      ? ''
      : element(
          'div',
          { class: 'verdict' },
          element('p', {}, textElement('strong', {}, verdict.word)) + paragraphs(verdict.sentences),
        ),
    ...sections.map(({ heading, blocks }) =>
      element(
        'section',
        {},
        textElement('h2', {}, heading) + blocks.map((block) => blockMarkup(block, drawings)).join('\n'),
      ),
    ),
    textElement('p', { class: 'foot' }, foot),
    textElement('p', { class: 'foot' }, endOfReport),
    banner,
  ]
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
${textElement('title', {}, name)}
<style>${reportStyle}</style>
</head>
<body>
${across}
<main>
${body.filter((piece) => piece !== '').join('\n')}
</main>
</body>
</html>
`
}

/** Name and address beside the logo; nothing where none is stated. */
function shopMarkup({ name, address, logo }: Report['shop']): string {
  const source = logo && `data:image/png;base64,${logo.png.toString('base64')}`
  const words = [
    name === null ? '' : textElement('strong', {}, name),
    address === null ? '' : textElement('span', {}, address),
  ].join('')
  const image = source === null ? '' : element('img', { class: 'logo', alt: 'Logo', src: source })
  return words + image === '' ? '' : element('header', {}, element('p', {}, words || ' ') + image)
}

const paragraphs = (sentences: readonly string[]) => sentences.map((text) => textElement('p', {}, text)).join('')

function blockMarkup(block: Block, drawings: { count: number }): string {
  switch (block.kind) {
    case 'facts': {
      const facts = block.facts.map(
        ({ label, value }) => textElement('dt', {}, label) + textElement('dd', {}, value ?? notRecorded),
      )
      return element('dl', {}, facts.join('\n'))
    }
    case 'sentences':
      return paragraphs(block.sentences)
    case 'table':
      return table(block.head, block.rows)
    case 'drawing':
      return element('figure', { 'aria-label': block.says }, ownIds(block.svg, `d${++drawings.count}-`))
  }
}

/** Each cell carries the head of its column, for the list that a narrow screen makes of the table. */
function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const heads = element('tr', {}, head.map((text) => textElement('th', { scope: 'col' }, text)).join(''))
  const body = rows.map((row) =>
    element(
      'tr',
      {},
      row
        .map((text, i) =>
          i === 0
            ? element('th', { scope: 'row' }, breakable(text))
            : element('td', { 'data-head': head[i] ?? '' }, breakable(text)),
        )
        .join(''),
    ),
  )
  return element('table', {}, element('thead', {}, heads) + element('tbody', {}, body.join('\n')))
}

/** Words so long may be broken anywhere, so that one of them does not widen a table beyond its page. */
const longWord = 20

function breakable(text: string): string {
  const pieces = text.split(' ').map((word) => word.match(new RegExp(`.{1,${longWord}}`, 'gu')) ?? [])
  return pieces.map((parts) => parts.map(escapeXml).join('<wbr>')).join(' ')
}

/** Two drawings in one file must not share the names of their pieces. */
function ownIds(svg: string, prefix: string): string {
  return svg
    .replace(/ id="/g, ` id="${prefix}`)
    .replace(/url\(#/g, `url(#${prefix}`)
    .replace(/aria-labelledby="([^"]*)"/, (_, names: string) => {
      const own = names.split(' ').map((name) => prefix + name)
      return `aria-labelledby="${own.join(' ')}"`
    })
}
