// A drawing of this program, as SVG, into the marks of a PDF page. It knows what our drawings are made of, and no more.
import type { Pdf } from './pdf-document.ts'
import { hues } from './plot-style.ts'

/** What is inherited from the root of a drawing. */
const { ink } = hues
const usualSize = 13

type Attributes = Record<string, string>

/** Draws `svg` with its upper left corner at x, y and `width` wide, all in points. */
export function drawSvg(pdf: Pdf, svg: string, x: number, y: number, width: number): void {
  const { doc } = pdf
  const area = areaOf(svg)
  doc
    .save()
    .translate(x, y)
    .scale(width / sizeOf(svg)[0])
  // What is only named or read aloud draws nothing.
  const drawn = svg.replace(/<(title|desc|defs)\b[\s\S]*?<\/\1>/g, '')
  for (const [, close, name = '', given = '', empty, text = ''] of drawn.matchAll(
    /<(\/?)(\w+)([^>]*?)(\/?)>([^<]*)/g,
  )) {
    const at = Object.fromEntries([...given.matchAll(/([\w-]+)="([^"]*)"/g)].map(([, key, value]) => [key!, value!]))
    if (name === 'g' && !empty) {
      if (close) doc.restore()
      else openGroup(doc, at, area)
    } else if (!close) drawMark(pdf, name, at, text)
  }
  doc.restore()
}

/** How high `svg` is at that width. */
export function heightOf(svg: string, width: number): number {
  const [wide, high] = sizeOf(svg)
  return (width * high) / wide
}

/** Width and height of its sheet, px. */
function sizeOf(svg: string): [number, number] {
  const [, , wide = 1, high = 1] = numbersIn(/viewBox="([^"]*)"/.exec(svg)?.[1] ?? '')
  return [wide, high]
}

/** The area that its data is cut to: x, y, width, height, px. */
const areaOf = (svg: string) => numbersIn(/<clipPath[^>]*><rect ([^>]*?) ?\/>/.exec(svg)?.[1] ?? '')

function openGroup(doc: Pdf['doc'], { transform = '', 'clip-path': clip }: Attributes, area: readonly number[]): void {
  const [x = 0, y = 0] = numbersIn(transform)
  doc.save()
  if (clip) {
    const [left = 0, top = 0, wide = 0, high = 0] = area
    doc.rect(left, top, wide, high).clip()
  }
  if (transform.startsWith('translate')) doc.translate(x, y)
}

function drawMark(pdf: Pdf, name: string, at: Attributes, text: string): void {
  const { doc } = pdf
  const n = (key: string) => Number(at[key] ?? 0)
  if (name === 'text') drawText(pdf, at, text)
  if (name === 'rect' && at['fill']?.startsWith('url')) {
    hatch(doc, n('x'), n('y'), n('width'), n('height'))
    return
  }
  const trace: Record<string, () => unknown> = {
    rect: () => doc.rect(n('x'), n('y'), n('width'), n('height')),
    line: () => doc.moveTo(n('x1'), n('y1')).lineTo(n('x2'), n('y2')),
    circle: () => doc.circle(n('cx'), n('cy'), n('r')),
    path: () => doc.path(at['d'] ?? ''),
  }
  if (!trace[name] || (name === 'path' && !at['d'])) return
  doc.save()
  doc.lineWidth(Number(at['stroke-width'] ?? 1)).strokeOpacity(Number(at['stroke-opacity'] ?? 1))
  doc.fillOpacity(Number(at['fill-opacity'] ?? 1))
  const [dash, space = dash] = numbersIn(at['stroke-dasharray'] ?? '')
  if (dash) doc.dash(dash, { space: space ?? dash })
  if (at['stroke-linecap'] === 'round') doc.lineCap('round')
  trace[name]()
  const [fill, stroke] = [at['fill'] ?? ink, at['stroke']]
  if (name === 'line' || fill === 'none') doc.stroke(stroke ?? ink)
  else if (stroke) doc.fillAndStroke(fill, stroke)
  else doc.fill(fill)
  doc.restore()
}

/** The hatch of a break's band: lines across it, so that it stays apart in grey. */
function hatch(doc: Pdf['doc'], x: number, y: number, width: number, height: number): void {
  doc.save().rect(x, y, width, height).clip().lineWidth(3).strokeOpacity(0.35)
  for (let from = x - height; from < x + width; from += 11) doc.moveTo(from, y + height).lineTo(from + height, y)
  doc.stroke(hues.break).restore()
}

const entities: Record<string, string> = { '&amp;': '&', '&lt;': '<', '&gt;': '>', '&quot;': '"' }

function drawText(pdf: Pdf, at: Attributes, markup: string): void {
  const { doc } = pdf
  const text = pdf.shown(markup.replaceAll(/&\w+;/g, (entity) => entities[entity] ?? entity)).trim()
  if (text === '') return
  const weight = at['font-weight'] === 'bold' ? 'bold' : 'plain'
  const size = Number(at['font-size'] ?? usualSize)
  const wide = pdf.measure(weight, size, text)
  pdf.use(weight, size)
  const share = at['text-anchor'] === 'middle' ? 0.5 : at['text-anchor'] === 'end' ? 1 : 0
  const [x, y] = [Number(at['x'] ?? 0), Number(at['y'] ?? 0)]
  doc
    .save()
    .fillOpacity(Number(at['fill-opacity'] ?? 1))
    .fillColor(at['fill'] ?? ink, Number(at['fill-opacity'] ?? 1))
  const [turn = 0, ...origin] = at['transform']?.startsWith('rotate') ? numbersIn(at['transform']) : []
  if (turn !== 0) doc.rotate(turn, { origin: [origin[0] ?? x, origin[1] ?? y] })
  doc.text(text, x - share * wide, y, { lineBreak: false, baseline: 'alphabetic' })
  doc.restore()
}

const numbersIn = (text: string): number[] => (text.match(/-?\d+(\.\d+)?/g) ?? []).map(Number)
