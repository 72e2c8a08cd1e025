// The cells of a terminal into an SVG picture: blocks and dots drawn as shapes, so that it looks the same whatever the fonts are.
import type { Cell, CellStyle } from '../harness/terminal.ts'

const [cellWidth, cellHeight, margin] = [8, 17, 12]
const [ground, ink] = ['#15181c', '#d8dadd']

/** The sixteen colours of a terminal: a palette of our own, made to be read on the dark ground. */
const palette = [
  ...['#15181c', '#e0605e', '#6cb56a', '#d9a441', '#5b9bd8', '#b583d6', '#4fb3b3', '#c3c7cc'],
  ...['#737a83', '#f28b86', '#93d68f', '#f0c56b', '#8bbcf0', '#d0a8ee', '#7fd6d4', '#f4f5f6'],
]

/** The picture of `cells`; `title` is read to those who cannot see it. */
export function pictureOf(cells: readonly (readonly Cell[])[], title: string): string {
  const columns = Math.max(...cells.map((row) => row.length))
  const [width, height] = [columns * cellWidth + 2 * margin, cells.length * cellHeight + 2 * margin]
  const drawn = cells.flatMap((row, at) => runsOf(row).map((run) => drawRun(run, margin + at * cellHeight)))
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img">`,
    `<title>${escaped(title)}</title>`,
    `<rect width="${width}" height="${height}" rx="6" fill="${ground}"/>`,
    `<g font-family="ui-monospace, 'DejaVu Sans Mono', Menlo, Consolas, monospace" font-size="13">`,
    ...drawn.filter((text) => text !== ''),
    '</g>',
    '</svg>',
    '',
  ].join('\n')
}

type Run = { column: number; text: string[]; style: CellStyle }

// Neighbours that look the same and are drawn in the same way go together.
function runsOf(row: readonly Cell[]): Run[] {
  const runs: Run[] = []
  row.forEach((cell, column) => {
    const last = runs.at(-1)
    if (last && sameLook(last.style, cell) && kindOf(last.text[0]!) === kindOf(cell.text)) last.text.push(cell.text)
    else runs.push({ column, text: [cell.text], style: cell })
  })
  return runs
}

const sameLook = (a: CellStyle, b: CellStyle) =>
  a.fg === b.fg && a.bg === b.bg && a.bold === b.bold && a.dim === b.dim && a.inverse === b.inverse

type Kind = 'text' | 'block' | 'dots'

function kindOf(text: string): Kind {
  const code = text.codePointAt(0) ?? 0
  if (code >= 0x2800 && code <= 0x28ff) return 'dots'
  return code in blocks ? 'block' : 'text'
}

/** Parts of a cell that a block element covers: left, top, width, height in eighths. Unicode 17.0, Block Elements. */
const blocks: Record<number, readonly [number, number, number, number]> = {
  9600: [0, 0, 8, 4],
  ...Object.fromEntries(Array.from({ length: 8 }, (_, i) => [0x2581 + i, [0, 7 - i, 8, i + 1]])),
  ...Object.fromEntries(Array.from({ length: 7 }, (_, i) => [0x2589 + i, [0, 0, 7 - i, 8]])),
  9616: [4, 0, 4, 8],
}

function drawRun({ column, text, style }: Run, top: number): string {
  const left = margin + column * cellWidth
  const width = text.length * cellWidth
  const [fore, back] = style.inverse
    ? [colourOf(style.bg, ground), colourOf(style.fg, ink)]
    : [colourOf(style.fg, ink), colourOf(style.bg, ground)]
  const behind = back === ground ? '' : rectangle(left, top, width, cellHeight, back)
  return behind + drawText(text, left, top, fore, style)
}

function drawText(text: readonly string[], left: number, top: number, colour: string, style: CellStyle): string {
  const joined = text.join('')
  if (joined.trim() === '') return ''
  const faint = style.dim ? ' opacity="0.62"' : ''
  switch (kindOf(joined)) {
    case 'block':
      return `<path d="${text.map((c, i) => blockPath(c, left + i * cellWidth, top)).join('')}" fill="${colour}"${faint}/>`
    case 'dots':
      return `<path d="${text.map((c, i) => dotsPath(c, left + i * cellWidth, top)).join('')}" fill="${colour}"${faint}/>`
    case 'text':
      // Each stretch of words at its own place: viewers squeeze wide gaps.
      return [...joined.matchAll(/\S+(?: \S+)*/g)]
        .map(({ 0: words, index }) => {
          const weight = style.bold ? ' font-weight="bold"' : ''
          const place = `x="${left + index * cellWidth}" y="${top + 13}" textLength="${[...words].length * cellWidth}"`
          return `<text ${place} fill="${colour}"${weight}${faint}>${escaped(words)}</text>`
        })
        .join('')
  }
}

function blockPath(text: string, left: number, top: number): string {
  const [x, y, w, h] = blocks[text.codePointAt(0)!]!
  const [fromX, fromY] = [left + (x * cellWidth) / 8, top + (y * cellHeight) / 8]
  return `M${fromX} ${fromY}h${(w * cellWidth) / 8}v${(h * cellHeight) / 8}h${(-w * cellWidth) / 8}z`
}

/** Column and row of the eight dots of a Braille pattern, by bit. Unicode 17.0, Braille Patterns. */
const dotPlaces = [0, 0, 0, 1, 1, 1, 0, 1].map((x, bit) => [x, [0, 1, 2, 0, 1, 2, 3, 3][bit]!] as const)

function dotsPath(text: string, left: number, top: number): string {
  const bits = text.codePointAt(0)! - 0x2800
  const size = 2.4
  return dotPlaces
    .map(([x, y], bit) => {
      if ((bits & (1 << bit)) === 0) return ''
      const [atX, atY] = [left + 0.8 + x * 4, top + 0.9 + y * 4.25]
      return `M${round(atX)} ${round(atY)}h${size}v${size}h${-size}z`
    })
    .join('')
}

const round = (x: number) => Math.round(x * 100) / 100

function rectangle(x: number, y: number, width: number, height: number, fill: string): string {
  return `<rect x="${x}" y="${y}" width="${width}" height="${height}" fill="${fill}"/>`
}

/** `p` and a number below 16 from our palette; above it the colour cube and the greys that terminals share. */
function colourOf(name: string, usual: string): string {
  if (name === 'default') return usual
  if (name.startsWith('#')) return name
  const number = Number(name.slice(1))
  if (number < 16) return palette[number]!
  const level = (step: number) => (step === 0 ? 0 : 55 + 40 * step)
  const cube = number - 16
  const rgb =
    number >= 232
      ? Array<number>(3).fill(8 + 10 * (number - 232))
      : [Math.floor(cube / 36), Math.floor(cube / 6) % 6, cube % 6].map(level)
  return `#${rgb.map((c) => c.toString(16).padStart(2, '0')).join('')}`
}

const escaped = (text: string) => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;')
