// The trips of all cycles into one picture: contact against pressure, the makes going up, the breaks coming down.

import { ratingOf } from '../../core/model/part.ts'
import { limitText } from '../../core/text/pressure-text.ts'
import { type Line, line, type Span, span } from '../text/line.ts'
import { padText } from '../text/text.ts'
import type { Rect } from './layout.ts'
import type { Shown } from './shown.ts'

/** Room to the right of the rated point: the peak of a usual stroke, and some air; common practice, no source. */
const widestShare = 1.4
const names = { up: 'actuated ', down: 'at rest  ' }
const nameWidth = names.up.length

/** Heading, the two levels with the trips between them, and a scale with the limits; fewer than five rows give none. */
export function loopLines({ live, part }: Shown, rect: Rect): Line[] {
  const columns = rect.width - nameWidth - 2
  if (rect.height < 5 || columns < 20) return []
  const { ratedPa, unit, limits } = ratingOf(part)
  const cycles = live?.result?.cycles ?? []
  const had = (name: 'makePa' | 'breakPa') => cycles.flatMap((c) => c[name] ?? [])
  const [makes, breaks] = [had('makePa'), had('breakPa')]
  const mostPa = widestShare * Math.max(ratedPa, ...makes, limits.make?.highPa ?? 0, limits.break?.highPa ?? 0)
  const columnOf = (pa: number) => Math.min(columns - 1, Math.max(0, Math.round((pa / mostPa) * (columns - 1))))
  const [up, down] = [countAt(makes.map(columnOf), columns), countAt(breaks.map(columnOf), columns)]
  const firstDown = down.findIndex((n) => n > 0)
  const lastUp = up.findLastIndex((n) => n > 0)
  const here = live?.pressurePa == null ? null : columnOf(live.pressurePa)
  const place = (level: boolean) => (live?.actuated === level ? here : null)
  const row = (name: string, cell: (x: number) => Span, at: number | null): Line => [
    span(name, 'dim'),
    ...joined(Array.from({ length: columns }, (_, x) => (x === at ? span('●', 'strong') : cell(x)))),
  ]
  const thick = (n: number) => (n > 3 ? '█' : n > 1 ? '┃' : '│')
  const top = row(
    names.up,
    (x) => (down[x]! > 0 ? span('▼', 'strong') : x > firstDown && firstDown >= 0 ? span('─', 'accent') : span(' ')),
    place(true),
  )
  const middle = row(
    padText('', nameWidth),
    (x) => (up[x]! > 0 ? span(thick(up[x]!), 'strong') : down[x]! > 0 ? span(thick(down[x]!), 'accent') : span(' ')),
    null,
  )
  const bottom = row(
    names.down,
    (x) => (up[x]! > 0 ? span('▲', 'strong') : x < lastUp ? span('─', 'accent') : span(' ')),
    place(false),
  )
  const marks = [
    { pa: 0, text: '0' },
    ...(['break', 'make'] as const).flatMap((name) => {
      const sign = name === 'make' ? '▲' : '▼'
      const { lowPa = null, highPa = null } = limits[name] ?? {}
      return [lowPa, highPa].flatMap((pa, i) =>
        pa === null ? [] : [{ pa, text: `${sign}${i === 0 ? '≥' : '≤'}${limitText(pa, unit)}` }],
      )
    }),
  ]
  return [
    line(` loop of ${cycles.length} ${cycles.length === 1 ? 'stroke' : 'strokes'}: contact against pressure`, 'dim'),
    top,
    ...Array.from({ length: rect.height - 4 }, () => middle),
    bottom,
    [span(padText('', nameWidth)), span(scale(marks, columnOf, columns), 'dim')],
  ]
}

function countAt(columnsHit: readonly number[], columns: number): number[] {
  const counts = Array.from({ length: columns }, () => 0)
  for (const x of columnsHit) counts[x]!++
  return counts
}

/** Labels under their places; one that would run into the one before is left out. */
function scale(
  marks: readonly { pa: number; text: string }[],
  columnOf: (pa: number) => number,
  columns: number,
): string {
  let row = ''
  for (const { pa, text } of marks.toSorted((a, b) => a.pa - b.pa)) {
    const at = columnOf(pa)
    if (at < row.length + (row === '' ? 0 : 1) || at + text.length > columns) continue
    row = row.padEnd(at) + text
  }
  return row
}

function joined(spans: readonly Span[]): Span[] {
  const out: Span[] = []
  for (const s of spans) {
    const last = out.at(-1)
    if (last?.tone === s.tone) last.text += s.text
    else out.push({ ...s })
  }
  return out
}
