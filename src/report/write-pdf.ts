// Drawings of this program, as SVG, into one PDF for a printer: a page each, A4 across.

import { pdfText, textWidth } from './pdf-text.ts'
import { hues, sheet } from './plot-style.ts'

// A4 in points, and a margin that every printer keeps; common practice, no source.
const [pageWidth, pageHeight, margin] = [842, 595, 28]
const scale = (pageWidth - 2 * margin) / sheet.width
/** What is inherited from the root of a drawing. */
const { ink } = hues
const usualSize = 13

/** The file: ISO 32000-1, with the two fonts that every reader has. */
export function writePdf(drawings: readonly string[]): Buffer {
  const pages = drawings.map((_, i) => 5 + 2 * i)
  const objects = [
    '<< /Type /Catalog /Pages 2 0 R >>',
    `<< /Type /Pages /Count ${pages.length} /Kids [${pages.map((n) => `${n} 0 R`).join(' ')}] >>`,
    ...['Helvetica', 'Helvetica-Bold'].map(
      (name) => `<< /Type /Font /Subtype /Type1 /BaseFont /${name} /Encoding /WinAnsiEncoding >>`,
    ),
    ...drawings.flatMap((svg, i) => {
      const content = drawPage(svg)
      return [
        `<< /Type /Page /Parent 2 0 R /MediaBox [0 0 ${pageWidth} ${pageHeight}] /Contents ${pages[i]! + 1} 0 R /Resources << /Font << /F1 3 0 R /F2 4 0 R >> /ExtGState << ${statesOf(svg)} >> >> >>`,
        `<< /Length ${content.length} >>\nstream\n${content}\nendstream`,
      ]
    }),
  ]
  let text = '%PDF-1.4\n'
  const places = objects.map((object, i) => {
    const place = text.length
    text += `${i + 1} 0 obj\n${object}\nendobj\n`
    return `${String(place).padStart(10, '0')} 00000 n \n`
  })
  const count = objects.length + 1
  const table = `xref\n0 ${count}\n0000000000 65535 f \n${places.join('')}`
  return Buffer.from(
    `${text}${table}trailer\n<< /Size ${count} /Root 1 0 R >>\nstartxref\n${text.length}\n%%EOF\n`,
    'latin1',
  )
}

type Attributes = Record<string, string>

/** The marks of one drawing; its y goes down, a page's goes up. */
function drawPage(svg: string): string {
  const top = (pageHeight + sheet.height * scale) / 2
  const out = [`${short(scale)} 0 0 ${short(-scale)} ${margin} ${short(top)} cm`]
  // What is only named or read aloud draws nothing.
  const drawn = svg.replace(/<(title|desc|defs)\b[\s\S]*?<\/\1>/g, '')
  for (const [, close, name = '', given = '', empty, text = ''] of drawn.matchAll(
    /<(\/?)(\w+)([^>]*?)(\/?)>([^<]*)/g,
  )) {
    const at = Object.fromEntries([...given.matchAll(/([\w-]+)="([^"]*)"/g)].map(([, key, value]) => [key!, value!]))
    if (name === 'g' && !empty) out.push(close ? 'Q' : `q ${groupOf(at)}`)
    else if (!close) out.push(...markOf(name, at, text))
  }
  return out.join('\n')
}

function groupOf({ transform = '', 'clip-path': clip }: Attributes): string {
  const [x, y] = numbersIn(transform)
  const { left, right, top, bottom, width, height } = sheet
  if (clip) return `${left} ${top} ${width - left - right} ${height - top - bottom} re W n`
  return transform.startsWith('translate') ? `1 0 0 1 ${x} ${y} cm` : ''
}

function markOf(name: string, at: Attributes, text: string): string[] {
  const n = (key: string) => Number(at[key] ?? 0)
  switch (name) {
    case 'rect':
      if (at['fill']?.startsWith('url')) return hatchOf(n('x'), n('y'), n('width'), n('height'))
      return [`q ${fillOf(at)} ${n('x')} ${n('y')} ${n('width')} ${n('height')} re f Q`]
    case 'line':
      return [`q ${strokeOf(at)} ${n('x1')} ${n('y1')} m ${n('x2')} ${n('y2')} l S Q`]
    case 'circle':
      return [`q ${fillOf(at)} ${circleOf(n('cx'), n('cy'), n('r'))} f Q`]
    case 'path': {
      const filled = at['fill'] !== 'none'
      const paint = filled ? (at['stroke'] ? 'B' : 'f') : 'S'
      const fill = filled ? `${fillOf(at)} ` : ''
      return [`q ${fill}${strokeOf(at)} ${pathOf(at['d'] ?? '')} ${paint} Q`]
    }
    case 'text':
      return [textOf(at, text)]
    default:
      return []
  }
}

function strokeOf(at: Attributes): string {
  const dashes = at['stroke-dasharray'] ? `[${numbersIn(at['stroke-dasharray']).join(' ')}] 0 d ` : ''
  return `${stateOf(at['stroke-opacity'])}${dashes}${colour(at['stroke'] ?? ink)} RG ${at['stroke-width'] ?? 1} w`
}

const fillOf = (at: Attributes) => `${stateOf(at['fill-opacity'])}${colour(at['fill'] ?? ink)} rg`

/** `#rrggbb` as three shares. */
function colour(hex: string): string {
  return [1, 3, 5].map((i) => short(Number.parseInt(hex.slice(i, i + 2), 16) / 255)).join(' ')
}

/** Sets how much of a mark covers what is below it; nothing where all of it does. */
const stateOf = (opacity: string | undefined) => (opacity ? `/${stateName(opacity)} gs ` : '')
const stateName = (opacity: string) => `A${Math.round(Number(opacity) * 100)}`

/** The states that the marks of a drawing set; the one of the hatch is among its definitions. */
function statesOf(svg: string): string {
  const shares = new Map([...svg.matchAll(/opacity="([\d.]+)"/g)].map(([, share = '1']) => [stateName(share), share]))
  return [...shares].map(([name, share]) => `/${name} << /ca ${share} /CA ${share} >>`).join(' ')
}

/** The commands that our paths have: M, L, l, h, V and z. */
function pathOf(data: string): string {
  const out: string[] = []
  let [x, y] = [0, 0]
  for (const [, command = '', list = ''] of data.matchAll(/([MLlhVz])([^MLlhVz]*)/g)) {
    const [a = 0, b = 0] = numbersIn(list)
    if (command === 'z') {
      out.push('h')
      continue
    }
    if (command === 'l' || command === 'h') [x, y] = [x + a, command === 'l' ? y + b : y]
    else [x, y] = command === 'V' ? [x, a] : [a, b]
    out.push(`${short(x)} ${short(y)} ${command === 'M' ? 'm' : 'l'}`)
  }
  return out.join(' ')
}

/** Four curves; 0.5523 is 4/3·(√2 − 1). */
function circleOf(x: number, y: number, r: number): string {
  const k = 0.5523 * r
  const curve = (...points: number[]) => `${points.map(short).join(' ')} c`
  return [
    `${short(x + r)} ${short(y)} m`,
    curve(x + r, y + k, x + k, y + r, x, y + r),
    curve(x - k, y + r, x - r, y + k, x - r, y),
    curve(x - r, y - k, x - k, y - r, x, y - r),
    curve(x + k, y - r, x + r, y - k, x + r, y),
  ].join(' ')
}

/** The hatch of a break's band: lines across it, so that it stays apart in grey. */
function hatchOf(x: number, y: number, width: number, height: number): string[] {
  const lines = Array.from({ length: Math.ceil((width + height) / 11) }, (_, i) => {
    const from = x - height + 11 * i
    return `${short(from)} ${short(y + height)} m ${short(from + height)} ${short(y)} l S`
  })
  return [`q ${x} ${y} ${width} ${height} re W n ${stateOf('0.35')}${colour(hues.break)} RG 3 w`, ...lines, 'Q']
}

function textOf(at: Attributes, text: string): string {
  const size = Number(at['font-size'] ?? usualSize)
  const said = pdfText(text)
  const turn = at['transform']?.startsWith('rotate') ? ((numbersIn(at['transform'])[0] ?? 0) * Math.PI) / 180 : 0
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)]
  const share = at['text-anchor'] === 'middle' ? 0.5 : at['text-anchor'] === 'end' ? 1 : 0
  const back = share * textWidth(said) * size
  const [x, y] = [Number(at['x'] ?? 0) - cos * back, Number(at['y'] ?? 0) - sin * back]
  const matrix = [cos, sin, sin, -cos, x, y].map(short).join(' ')
  const font = at['font-weight'] === 'bold' ? 'F2' : 'F1'
  const escaped = said.replaceAll(/[\\()]/g, '\\$&')
  return `q ${fillOf(at)} BT /${font} ${size} Tf ${matrix} Tm (${escaped}) Tj ET Q`
}

/** A thousandth of a point is finer than any printer shows. */
const short = (value: number): string => String(Math.round(value * 1000) / 1000)

const numbersIn = (text: string): number[] => (text.match(/-?\d+(\.\d+)?/g) ?? []).map(Number)
