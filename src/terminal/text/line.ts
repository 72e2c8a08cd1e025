// What is on one row of the screen: pieces of text, each with a tone; and how a tone looks.
import { styleText } from 'node:util'
import { clipText, textWidth } from './text.ts'

/** What a piece means; its look is chosen in one place. Text and signs carry the meaning without any colour too. */
export type Tone = 'plain' | 'strong' | 'dim' | 'accent' | 'good' | 'warn' | 'bad' | 'bar' | 'alarm' | 'filled'
export type Span = { text: string; tone: Tone }
export type Line = readonly Span[]

type Look = Parameters<typeof styleText>[0]
const looks: Record<Tone, { colour: Look; mono: Look }> = {
  plain: { colour: [], mono: [] },
  strong: { colour: 'bold', mono: 'bold' },
  dim: { colour: 'dim', mono: 'dim' },
  accent: { colour: 'cyan', mono: [] },
  good: { colour: ['bold', 'green'], mono: 'bold' },
  warn: { colour: ['bold', 'yellow'], mono: 'bold' },
  bad: { colour: ['bold', 'red'], mono: 'bold' },
  bar: { colour: 'inverse', mono: 'inverse' },
  alarm: { colour: ['bold', 'inverse', 'red'], mono: ['bold', 'inverse'] },
  filled: { colour: ['inverse', 'cyan'], mono: 'inverse' },
}

/** One piece of text. */
export const span = (text: string, tone: Tone = 'plain'): Span => ({ text, tone })

/** A row of one piece. */
export const line = (text: string, tone: Tone = 'plain'): Line => [{ text, tone }]

/** Cells of a row. */
export const lineWidth = (spans: Line): number => spans.reduce((sum, s) => sum + textWidth(s.text), 0)

/** The row cut to `width` cells: pieces that do not fit are cut with `…` or left out. */
export function clipLine(spans: Line, width: number): Line {
  const kept: Span[] = []
  let room = width
  for (const { text, tone } of spans) {
    if (room <= 0) break
    const clipped = clipText(text, room)
    kept.push({ text: clipped, tone })
    room -= textWidth(clipped)
  }
  return kept
}

/** `left` at the start of the row and `right` at its end; `left` gives way where both do not fit. The gap takes the tone `fill`. */
export function spread(left: Line, right: Line, width: number, fill: Tone = 'plain'): Line {
  const kept = clipLine(left, Math.max(0, width - lineWidth(right) - 1))
  const gap = Math.max(0, width - lineWidth(kept) - lineWidth(right))
  return clipLine([...kept, { text: ' '.repeat(gap), tone: fill }, ...right], width)
}

/** The row broken at spaces into at most `maxLines` rows of `width` cells; the last is cut with `…` where not all fits. Empty: no row. */
export function wrapLine(spans: Line, width: number, maxLines: number): Line[] {
  if (lineWidth(spans) === 0 || maxLines <= 0) return []
  if (lineWidth(spans) <= width) return [spans]
  const rows: Span[][] = [[]]
  let room = width
  for (const { text, tone } of spans)
    for (const word of text.split(/(?<= )/)) {
      const cells = textWidth(word.trimEnd())
      if (cells > room && room < width && rows.length < maxLines) {
        rows.push([])
        room = width
      }
      rows.at(-1)!.push({ text: word, tone })
      room -= textWidth(word)
    }
  return rows.map((row) => clipLine(trimEnd(row), width))
}

function trimEnd(row: readonly Span[]): Line {
  const last = row.at(-1)
  return last ? [...row.slice(0, -1), { ...last, text: last.text.trimEnd() }] : row
}

/** The row as bare text. */
export const bareText = (spans: Line): string => spans.map((s) => s.text).join('')

/** The row as text with terminal styles; `colours` false leaves bold, dim and inverse only. */
export function paintLine(spans: Line, colours: boolean): string {
  return spans
    .map(({ text, tone }) => {
      const look = looks[tone][colours ? 'colour' : 'mono']
      return look.length === 0 || text === '' ? text : styleText(look, text, { validateStream: false })
    })
    .join('')
}
