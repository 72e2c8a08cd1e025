// Each quantity so far into a band: its limits, the guards inside them, and the value with its uncertainty.
import type { Band } from '../../core/guide/guidance.ts'
import { ratingOf } from '../../core/model/part.ts'
import { limitText } from '../../core/text/pressure-text.ts'
import { type Line, line, type Span, span } from '../text/line.ts'
import { padText } from '../text/text.ts'
import type { Rect } from './layout.ts'
import type { Shown } from './shown.ts'

const nameWidth = 13
const labelWidth = 8
/** Room outside the limits, of the distance between them. */
const air = 0.2

/** A heading and a row for each quantity that has limits; nothing where none has. */
export function bandLines({ live, part }: Shown, rect: Rect): Line[] {
  const bands = live?.bands ?? []
  if (bands.length === 0) return []
  const { unit, ratedPa } = ratingOf(part)
  const columns = rect.width - nameWidth - 2 * labelWidth - 2
  if (columns < 16) return []
  const label = (pa: number | null, side: 'left' | 'right') =>
    span(padText(pa === null ? '' : limitText(pa, unit), labelWidth, side), 'dim')
  return [
    line(
      `${padText('', nameWidth)}${padText('│ limit  ▒ guard  ━●━ value with U  ┅ lag or leak', rect.width - nameWidth)}`,
      'dim',
    ),
    ...bands.map(
      (band): Line => [
        span(padText(band.name, nameWidth), 'strong'),
        label(band.limit.lowPa, 'right'),
        span(' '),
        ...drawBand(band, ratedPa, columns),
        span(' '),
        label(band.limit.highPa, 'left'),
      ],
    ),
  ]
}

/** The picture of one band in `columns` cells. A side without a limit is open to its end. */
export function drawBand(
  { limit, accept, valuePa, UPa, allowLowPa, allowHighPa }: Band,
  ratedPa: number,
  columns: number,
): Span[] {
  const { lowPa, highPa } = limit
  const widthPa = lowPa !== null && highPa !== null ? highPa - lowPa : 0.5 * ratedPa
  // One limit alone: the picture reaches from it to beyond the value.
  const reachPa = Math.max(widthPa, Math.abs((valuePa ?? 0) - (lowPa ?? highPa ?? 0)) * (valuePa === null ? 0 : 1.3))
  const fromPa = lowPa === null ? (highPa ?? 0) - reachPa : lowPa - air * widthPa
  const toPa = highPa === null ? (lowPa ?? 0) + reachPa : highPa + air * widthPa
  const columnOf = (pa: number) => Math.round(((pa - fromPa) / (toPa - fromPa)) * (columns - 1))
  const clamped = (pa: number) => Math.min(columns - 1, Math.max(0, columnOf(pa)))
  const low = lowPa === null ? -1 : columnOf(lowPa)
  const high = highPa === null ? columns : columnOf(highPa)
  // Where nothing can pass the guards meet: all between the limits is guard.
  const known = UPa !== null
  const acceptLow = accept ? (accept.lowPa === null ? -1 : columnOf(accept.lowPa)) : columns
  const acceptHigh = accept ? (accept.highPa === null ? columns : columnOf(accept.highPa)) : -1
  const at = valuePa === null ? null : clamped(valuePa)
  const [left, right] = valuePa === null || UPa === null ? [1, 0] : [clamped(valuePa - UPa), clamped(valuePa + UPa)]
  // What lag and leak leave open goes on from U.
  const [least, most] =
    valuePa === null || UPa === null
      ? [1, 0]
      : [clamped(valuePa - UPa - allowLowPa), clamped(valuePa + UPa + allowHighPa)]
  const spans: Span[] = []
  const put = (char: string, tone: Span['tone']) => {
    const last = spans.at(-1)
    if (last?.tone === tone) last.text += char
    else spans.push(span(char, tone))
  }
  for (let x = 0; x < columns; x++) {
    if (x === at) put('●', 'strong')
    else if (x >= left && x <= right) put('━', 'strong')
    else if (x >= least && x <= most) put('┅', 'strong')
    else if (x === low || x === high) put('│', 'plain')
    else if (x < low || x > high) put(' ', 'dim')
    else if (known && (x < acceptLow || x > acceptHigh)) put('▒', 'warn')
    else put('╌', 'good')
  }
  return spans
}
