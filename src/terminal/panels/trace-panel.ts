// The trace of a run into a panel: heading, scale on the left with limits named, the picture, and the track of the switch.

import { ratingOf } from '../../core/model/part.ts'
import { limitText } from '../../core/text/pressure-text.ts'
import type { Live } from '../../core/view/live.ts'
import { type Line, line, type Span, span } from '../text/line.ts'
import { padText, textWidth } from '../text/text.ts'
import type { Layout, Rect } from './layout.ts'
import type { Shown } from './shown.ts'
import { drawTrace, drawTrack, type Guard, guardSign, limitSign, traceFrame, traceRow, tripSigns } from './trace.ts'

/** Room for the curve above the rated point where no limit is given: the peak of a usual stroke, 1.25 times; common practice, no source. */
const peakPerRated = 1.25

/** The panel's rows; with fewer than four rows only what fits. */
export function traceLines({ live, part, dots }: Shown, rect: Rect, _layout: Layout): Line[] {
  const rating = ratingOf(part)
  const points = live?.trace ?? []
  const labels = labelsOf(rating)
  const rows = rect.height - 2
  const gutter = Math.max(...labels.map((l) => textWidth(l.text)), 7) + 1
  const columns = rect.width - gutter - 1
  const frame = traceFrame(points, [...labels.map((l) => l.pa), rating.ratedPa * peakPerRated], 2 * columns)
  const limitsPa = labels.filter((l) => l.limit).map((l) => l.pa)
  const picture = drawTrace(
    frame,
    { points, trips: live?.trips ?? [], limitsPa, guards: guardsOf(live) },
    { columns, rows },
    dots,
  )
  const texts = new Map<number, string>()
  // The first label wins where two would stand on one row.
  for (const { pa, text } of labels) {
    const row = traceRow(frame, pa, rows)
    if (row !== null && !texts.has(row)) texts.set(row, text)
  }
  const spanS = Math.round(frame.endS - frame.startS)
  return [
    [
      span(padText(` pressure, ${spanS} s`, gutter + 14), 'dim'),
      span(`${tripSigns.make} make  ${tripSigns.break} break`, 'dim'),
      span(columns < 50 ? '' : `  ${limitSign} limit  ${guardSign} guard`, 'dim'),
    ],
    ...picture.map((row, i): Line => [span(`${padText(texts.get(i) ?? '', gutter, 'right')}│`, 'dim'), ...toned(row)]),
    [span(`${padText('switch', gutter, 'right')} `, 'dim'), ...line(drawTrack(frame, points, columns), 'accent')],
  ]
}

/** The guards of make and break, as soon as an uncertainty is known; where nothing can pass they meet in the middle. */
function guardsOf(live: Live | null): Guard[] {
  return (live?.bands ?? []).flatMap(({ name, limit, accept, UPa }) => {
    if (name === 'differential' || UPa === null) return []
    const { lowPa, highPa } = limit
    const middlePa = ((lowPa ?? highPa ?? 0) + (highPa ?? lowPa ?? 0)) / 2
    return [
      ...(lowPa === null ? [] : [{ limitPa: lowPa, endPa: accept?.lowPa ?? middlePa }]),
      ...(highPa === null ? [] : [{ limitPa: highPa, endPa: accept?.highPa ?? middlePa }]),
    ]
  })
}

function labelsOf(rating: ReturnType<typeof ratingOf>): { pa: number; text: string; limit: boolean }[] {
  const { unit, limits } = rating
  const labels: { pa: number; text: string; limit: boolean }[] = []
  for (const [name, letter] of [
    ['make', '▲'],
    ['break', '▼'],
  ] as const) {
    const { lowPa, highPa } = limits[name] ?? { lowPa: null, highPa: null }
    if (highPa !== null) labels.push({ pa: highPa, text: `${letter}≤${limitText(highPa, unit)}`, limit: true })
    if (lowPa !== null) labels.push({ pa: lowPa, text: `${letter}≥${limitText(lowPa, unit)}`, limit: true })
  }
  labels.push({ pa: 0, text: '0', limit: false })
  labels.push({ pa: rating.ratedPa, text: limitText(rating.ratedPa, unit), limit: false })
  return labels
}

// Limits stand back, trips stand out; the rest is the curve.
function toned(row: string): Span[] {
  const spans: Span[] = []
  for (const char of row) {
    const tone =
      char === limitSign || char === guardSign
        ? 'dim'
        : char === tripSigns.make || char === tripSigns.break
          ? 'strong'
          : 'accent'
    const last = spans.at(-1)
    if (last?.tone === tone || (char === ' ' && last)) last!.text += char
    else spans.push(span(char, tone))
  }
  return spans
}
