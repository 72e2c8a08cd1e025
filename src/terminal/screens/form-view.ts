// A form's fields and mistakes into its screen: one row a line where there is room, the field in hand always in sight, what is wrong below.

import type { Size } from '../panels/layout.ts'
import type { Region } from '../panels/shown.ts'
import { type Line, line, lineWidth, span, type Tone } from '../text/line.ts'
import { clipText, padText, textWidth } from '../text/text.ts'
import { editorLine } from '../text/text-editor.ts'
import { concerns } from './form-mistakes.ts'
import type { Field, FormRow, FormSpec, FormState, Mistake } from './form-spec.ts'
import { cleanSpaced, firstShown, frame, paragraph, roomOf } from './frame.ts'

const usualWidth = 16
const leastWidth = 4
const mark = ' ► '

/** The screen of the form as it is now. */
export function drawForm(spec: FormSpec, state: FormState, size: Size, foot: Line): Region[] {
  const room = roomOf(size)
  const rows = spec.rows(state.values)
  const mistakes = spec.check(state.values)
  const labelled = Math.min(24, Math.floor(room.width * 0.4), Math.max(...rows.map((row) => textWidth(row.label))) + 2)
  const intro = room.small ? [] : (spec.intro ?? []).flatMap((text) => paragraph(text, room.width, 1, 2))
  const at = rows.findIndex(({ fields }) => fields.some(({ name }) => name === state.at))
  const below = toldLines(rows[at], mistakes, state, room.width, Math.max(2, Math.floor(room.body / 3)))
  const head = [...intro, ...(intro.length > 0 ? [line('')] : [])]
  const most = Math.max(1, room.body - head.length - below.length - 1)
  const drawn = rows.flatMap((row, i) => rowLines(row, i === at, mistakes, state, labelled, room.width))
  const first = firstShown(
    drawn.findIndex(({ here }) => here),
    drawn.length,
    most,
  )
  const shown = drawn.slice(first, first + most).map(({ spans }) => spans)
  const hidden = drawn.length > most ? `row ${at + 1} of ${rows.length}` : ''
  return frame(size, spec.title, hidden, [...head, ...shown, line(''), ...below], foot)
}

/** A row of the form on as many rows of the screen as it needs; `here`: the field in hand is there. */
function rowLines(
  row: FormRow,
  isAt: boolean,
  mistakes: readonly Mistake[],
  state: FormState,
  labelled: number,
  width: number,
): { spans: Line; here: boolean }[] {
  const own = mistakes.filter((mistake) => row.fields.some(({ name }) => concerns(mistake, name)))
  const sign = own.some(({ doubt }) => !doubt) ? [span(' ✗', 'bad')] : own.length > 0 ? [span(' !', 'warn')] : []
  const room = width - mark.length - labelled - lineWidth([span(' ✗')])
  const broken: { spans: Line; here: boolean }[] = [{ spans: [], here: false }]
  for (const field of row.fields) {
    const spans = fieldSpans(field, state, room)
    const last = broken.at(-1)!
    const next = last.spans.length > 0 && lineWidth([...last.spans, ...spans].slice(0, -1)) > room
    const into = next ? { spans: [], here: false } : last
    if (next) broken.push(into)
    into.spans = [...into.spans, ...spans]
    into.here ||= field.name === state.at
  }
  return broken.map(({ spans, here }, i) => {
    const label =
      i > 0
        ? [span(' '.repeat(mark.length + labelled))]
        : [
            span(isAt ? mark : ' '.repeat(mark.length), 'accent'),
            span(padText(row.label, labelled), isAt ? 'strong' : 'plain'),
          ]
    // Behind the last field the sign takes the place of the gap.
    return { spans: [...label, ...(i === broken.length - 1 ? [...spans.slice(0, -1), ...sign] : spans)], here }
  })
}

/** The field in at most `room` cells, and a gap after it. */
function fieldSpans(field: Field, { values, at, cursor }: FormState, room: number): Line {
  const given = values[field.name] ?? ''
  const text = cleanSpaced(given)
  const here = field.name === at
  const label = field.label === '' ? [] : [span(`${field.label} `, 'dim')]
  const unit = field.unit === undefined ? [] : [span(` ${field.unit}`, 'dim')]
  const left = room - lineWidth([...label, ...unit])
  if (field.kind === 'choice')
    return [
      ...label,
      span(here ? '‹ ' : '  ', 'accent'),
      span(clipText(text || '–', Math.max(leastWidth, left - 4)), here ? 'bar' : 'plain'),
      span(here ? ' ›' : '  ', 'accent'),
      ...unit,
      span('  '),
    ]
  const width = Math.max(leastWidth, Math.min(field.width ?? usualWidth, left))
  if (!here) return [...label, span(padText(text === '' ? '·' : text, width)), ...unit, span('  ')]
  const typed = editorLine({ text: given, cursor }, width)
  return [...label, ...typed, span('_'.repeat(width - lineWidth(typed)), 'dim'), ...unit, span('  ')]
}

const toned = (lines: readonly Line[], tone: Tone): Line[] => lines.map((l) => l.map((s) => ({ ...s, tone })))

/** Help of the field in hand and what is wrong, its own first, in at most `most` rows; how much more there is where not all fits. */
function toldLines(
  row: FormRow | undefined,
  mistakes: readonly Mistake[],
  { at }: FormState,
  width: number,
  most: number,
): Line[] {
  const own = mistakes.filter((mistake) => concerns(mistake, at))
  const told = [...own, ...mistakes.filter((mistake) => !own.includes(mistake))].map(({ text, doubt }) =>
    doubt ? toned(paragraph(`! ${text}`, width, 1, 3), 'warn') : toned(paragraph(`✗ ${text}`, width, 1, 3), 'bad'),
  )
  const helped = row?.fields.find(({ name }) => name === at)?.help ?? ''
  // What is wrong with the field in hand comes before its help.
  const needed = own.length > 0 ? told.slice(0, own.length).flat().length + (told.length > own.length ? 1 : 0) : 1
  const help = helped === '' ? [] : toned(paragraph(helped, width, 1, 2), 'dim').slice(0, Math.max(0, most - needed))
  if (told.length === 0) return [...help, line(' ✓ Nothing is wrong.', 'good')]
  const room = most - help.length
  const shown: Line[] = []
  for (const [i, lines] of told.entries()) {
    const isLast = i === told.length - 1
    const fits = shown.length + lines.length + (isLast ? 0 : 1) <= room
    if (!fits && i > 0) return [...help, ...shown, line(` and ${told.length - i} more`, 'dim')]
    shown.push(...lines.slice(0, Math.max(1, room - (isLast ? 0 : 1))))
  }
  return [...help, ...shown]
}
