// Numbers of lines, one after the other, into ranges: however many follow each other, they take the room of one.

import { append, emptySeries, type Series, toArray } from './series.ts'

/** Lines `from` to `to`, both included. */
export type LineRange = { from: number; to: number }

/** Lines in rising order. The last range may still grow, so it is kept apart from those that older states share. */
export type LineRanges = { count: number; before: Series<LineRange>; last: LineRange | null }

export const noLines: LineRanges = { count: 0, before: emptySeries(), last: null }

/** `ranges` with `line` behind its last one. */
export function addLine({ count, before, last }: LineRanges, line: number): LineRanges {
  if (last !== null && line === last.to + 1) return { count: count + 1, before, last: { from: last.from, to: line } }
  return { count: count + 1, before: last === null ? before : append(before, [last]), last: { from: line, to: line } }
}

/** The ranges as a list. */
export function rangesOf({ before, last }: LineRanges): LineRange[] {
  return last === null ? [] : [...toArray(before), last]
}

/** The first `most` lines one by one. */
export function firstLines(ranges: LineRanges, most: number): number[] {
  const lines: number[] = []
  for (const { from, to } of rangesOf(ranges))
    for (let line = from; line <= to; line++) {
      if (lines.length === most) return lines
      lines.push(line)
    }
  return lines
}
