// A drawing into a whole SVG file: paper, title and description for readers who do not see it, axes with their units.
import type { ScaleContinuousNumeric } from 'd3-scale'
import { type Frame, font, hues } from './plot-style.ts'
import { element, escapeXml, textElement } from './svg.ts'

export type Scale = ScaleContinuousNumeric<number, number>
export type Axis = { scale: Scale; label: string; ticks: readonly { value: number; text: string }[] }
export type Sheet = {
  title: string
  subtitle: string
  /** No real part was tested: that is written across the drawing. */
  simulated: boolean
  /** One or two sentences that say what is to be seen. */
  description: string
  bottom: Axis
  left: Axis
  /** The same pressures in pascal; left out where the axis is in pascal already. */
  top?: Axis | undefined
  right?: Axis | undefined
  legend: readonly { mark: string; text: string }[]
  /** Marks under the axes' lines (limit bands) and above them (the data). */
  under: string
  over: string
}

/** The whole SVG text. */
export function drawSheet(plot: Sheet, frame: Frame): string {
  const { sheet, area, titled } = frame
  const { width, height } = sheet
  const clip = element('clipPath', { id: 'area' }, rect(area.x0, area.y1, area.x1 - area.x0, area.y0 - area.y1, {}))
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" ${font}`,
    ` font-size="13" fill="${hues.ink}" role="img" aria-labelledby="plot-title plot-description">`,
    `<title id="plot-title">${escapeXml(plot.title)}</title>`,
    `<desc id="plot-description">${escapeXml(plot.description)}</desc>`,
    element('defs', {}, clip + hatch()),
    rect(0, 0, width, height, { fill: hues.paper }),
    titled
      ? textElement('text', { x: area.x0, y: 28, 'font-size': 17, 'font-weight': 'bold' }, clipped(plot.title, 58))
      : '',
    titled ? textElement('text', { x: area.x0, y: 48, fill: hues.faint }, clipped(plot.subtitle, 86)) : '',
    drawLegend(plot.legend, frame),
    plot.simulated ? simulatedNote(frame) : '',
    element('g', { 'clip-path': 'url(#area)' }, plot.under || ' '),
    drawBottom(plot.bottom, frame),
    drawLeft(plot.left, frame),
    plot.top ? drawTop(plot.top, frame) : '',
    plot.right ? drawRight(plot.right, frame) : '',
    element('g', { 'clip-path': 'url(#area)' }, plot.over || ' '),
    '</svg>',
  ]
    .filter((piece) => piece !== '')
    .join('\n')
    .concat('\n')
}

/** A rectangle in px. */
export function rect(x: number, y: number, width: number, height: number, rest: Record<string, string | number>) {
  return element('rect', { x, y, width: Math.max(0, width), height: Math.max(0, height), ...rest })
}

function simulatedNote({ sheet, area }: Frame): string {
  const [x, y] = [(area.x0 + area.x1) / 2, (area.y0 + area.y1) / 2]
  const look = {
    'text-anchor': 'middle',
    fill: hues.faint,
    'fill-opacity': 0.35,
    'font-size': Math.round(sheet.width / 7.8),
    'font-weight': 'bold',
  }
  return textElement('text', { x, y, transform: `rotate(-20 ${x} ${y})`, ...look }, 'SIMULATED')
}

/** Triangle of the transition, its tip at the trip: upwards for make, downwards for break; hollow where it does not count. */
export function tripMark(x: number, y: number, transition: 'make' | 'break', counted = true): string {
  const down = transition === 'make' ? 9 : -9
  return element('path', {
    d: `M${x.toFixed(2)},${y.toFixed(2)}l5,${down}h-10z`,
    fill: counted ? hues[transition] : hues.paper,
    stroke: counted ? hues.paper : hues[transition],
    'stroke-width': 1,
  })
}

/** Depth of the band that shows on which side of a lone limit a value is allowed, px. */
const loneDepth = 14

/** A limit as a band between two edges, or as a line with a strip on its allowed side where the other is not stated. */
export function limitBand(
  transition: 'make' | 'break',
  low: number | null,
  high: number | null,
  along: 'x' | 'y',
  { area }: Frame,
): string {
  const up = along === 'x' ? 1 : -1
  const from = low ?? (high ?? 0) - up * loneDepth
  const to = high ?? (low ?? 0) + up * loneDepth
  const [start, end] = [Math.min(from, to), Math.max(from, to)]
  const fill = bandFill(transition)
  const edges = [low, high].filter((edge) => edge !== null)
  const look = { stroke: hues[transition], 'stroke-opacity': 0.6 }
  if (along === 'x') {
    const lines = edges.map((x) => element('line', { x1: x, y1: area.y0, x2: x, y2: area.y1, ...look }))
    return rect(start, area.y1, end - start, area.y0 - area.y1, fill) + lines.join('')
  }
  const lines = edges.map((y) => element('line', { x1: area.x0, y1: y, x2: area.x1, y2: y, ...look }))
  return rect(area.x0, start, area.x1 - area.x0, end - start, fill) + lines.join('')
}

/** A few words in the middle of a plot that has nothing to draw. */
export function emptyNote(text: string, { area }: Frame): string {
  const middle = { x: (area.x0 + area.x1) / 2, y: (area.y0 + area.y1) / 2 }
  return textElement('text', { ...middle, 'text-anchor': 'middle', fill: hues.faint, 'font-size': 17 }, text)
}

/** Fill of a limit band: break is hatched, so that two bands that overlap stay two. */
export function bandFill(transition: 'make' | 'break'): Record<string, string | number> {
  return transition === 'make' ? { fill: hues.make, 'fill-opacity': 0.14 } : { fill: 'url(#hatch)' }
}

function hatch(): string {
  const line = element('path', { d: 'M0,0V8', stroke: hues.break, 'stroke-width': 3, 'stroke-opacity': 0.35 })
  const turned = { id: 'hatch', width: 8, height: 8, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' }
  return element('pattern', turned, line)
}

/** As many characters as the sheet has room for; where some are cut the last is `…`. */
function clipped(text: string, most: number): string {
  const chars = [...text]
  return chars.length <= most ? text : `${chars.slice(0, most - 1).join('')}…`
}

/** One after the other; in a second row what the first has no room for. */
function drawLegend(entries: Sheet['legend'], { sheet, area, titled }: Frame): string {
  const left = titled ? area.x0 : 12
  let [x, y]: [number, number] = [left, titled ? 68 : 12]
  return entries
    .map(({ mark, text }) => {
      const width = 44 + 7.6 * text.length
      if (x + width > sheet.width) [x, y] = [left, y + 20]
      const entry = element(
        'g',
        { transform: `translate(${x} ${y})` },
        mark + textElement('text', { x: 26, y: 4 }, text),
      )
      x += width
      return entry
    })
    .join('')
}

function line(x1: number, y1: number, x2: number, y2: number, stroke: string): string {
  return element('line', { x1, y1, x2, y2, stroke })
}

function drawBottom({ scale, ticks, label }: Axis, { sheet, area, titled }: Frame): string {
  const marks = ticks.map(({ value, text }) => {
    const x = scale(value)
    const number = textElement('text', { x, y: area.y0 + (titled ? 20 : 17), 'text-anchor': 'middle' }, text)
    return line(x, area.y0, x, area.y1, hues.grid) + line(x, area.y0, x, area.y0 + 5, hues.ink) + number
  })
  const middle = (area.x0 + area.x1) / 2
  const name = textElement('text', { x: middle, y: sheet.height - (titled ? 20 : 6), 'text-anchor': 'middle' }, label)
  return marks.join('') + line(area.x0, area.y0, area.x1, area.y0, hues.ink) + name
}

function drawTop({ scale, ticks, label }: Axis, { area }: Frame): string {
  const marks = ticks.map(({ value, text }) => {
    const x = scale(value)
    const number = textElement('text', { x, y: area.y1 - 8, 'text-anchor': 'middle', fill: hues.faint }, text)
    return line(x, area.y1, x, area.y1 - 4, hues.faint) + number
  })
  return marks.join('') + textElement('text', { x: area.x1 + 12, y: area.y1 - 8, fill: hues.faint }, label)
}

function drawLeft({ scale, ticks, label }: Axis, { area, titled }: Frame): string {
  const marks = ticks.map(({ value, text }) => {
    const y = scale(value)
    const number = textElement('text', { x: area.x0 - 9, y: y + 4.5, 'text-anchor': 'end' }, text)
    return line(area.x0, y, area.x1, y, hues.grid) + line(area.x0 - 5, y, area.x0, y, hues.ink) + number
  })
  const middle = (area.y0 + area.y1) / 2
  const x = titled ? 20 : 13
  const turned = { x, y: middle, 'text-anchor': 'middle', transform: `rotate(-90 ${x} ${middle})` }
  return marks.join('') + line(area.x0, area.y0, area.x0, area.y1, hues.ink) + textElement('text', turned, label)
}

function drawRight({ scale, ticks, label }: Axis, { sheet, area, titled }: Frame): string {
  const marks = ticks.map(({ value, text }) => {
    const y = scale(value)
    return (
      line(area.x1, y, area.x1 + 4, y, hues.faint) +
      textElement('text', { x: area.x1 + 8, y: y + 4.5, fill: hues.faint }, text)
    )
  })
  // Its letters rise towards the edge of the sheet, which a browser cuts them off at.
  const x = sheet.width - (titled ? 16 : 13)
  const middle = (area.y0 + area.y1) / 2
  const turned = { x, y: middle, 'text-anchor': 'middle', transform: `rotate(90 ${x} ${middle})`, fill: hues.faint }
  return marks.join('') + textElement('text', turned, label)
}
