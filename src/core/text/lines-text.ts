// Numbers of lines into the words that name them: `lines 4 to 300 003 (300 000 lines)`.

import type { LineRange } from '../model/line-ranges.ts'
import { mostCorruptLines } from '../model/result.ts'

/** Ranges named one by one; the lines of the rest are counted. */
const mostNamed = 5

/** A whole number; from five digits on in groups of three. */
export const countText = (count: number): string =>
  count < 10_000 ? `${count}` : `${count}`.replace(/\B(?=(\d{3})+$)/g, ' ')

/** `line 17`, `lines 4 to 9`. */
export const rangeText = (range: LineRange): string => `${range.from === range.to ? 'line' : 'lines'} ${bounds(range)}`

const bounds = ({ from, to }: LineRange): string =>
  from === to ? countText(from) : `${countText(from)} to ${countText(to)}`

/** How many damaged lines a result names. */
export const damagedText = (lines: readonly number[]): string =>
  `${countText(lines.length)} damaged ${lines.length === 1 ? 'line' : 'lines'}${full(lines)}`

/** The list of a result may leave some out where it is full. */
const full = ({ length }: readonly number[]): string => (length < mostCorruptLines ? '' : ' or more')

/** The damaged lines of a result: `line 17`, `lines 4, 9 and 12`, `lines 4 to 9 (6 lines)`. */
export function linesText(lines: readonly number[]): string {
  const ranges = rangesIn(lines)
  const named = ranges.slice(0, mostNamed)
  const left = named.reduce((rest, { from, to }) => rest - (to - from + 1), lines.length)
  const names = [...named.map(bounds), ...(left > 0 ? [`${countText(left)} more`] : [])]
  const list = names.length === 1 ? names[0] : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`
  const counted = ranges.length < lines.length ? ` (${countText(lines.length)} lines${full(lines)})` : ''
  return `${lines.length === 1 ? 'line' : 'lines'} ${list}${counted}`
}

function rangesIn(lines: readonly number[]): LineRange[] {
  const ranges: LineRange[] = []
  for (const line of lines) {
    const last = ranges.at(-1)
    if (last?.to === line - 1) last.to = line
    else ranges.push({ from: line, to: line })
  }
  return ranges
}
