// A form's fields and mistakes into its screen: one row a line, the field in hand marked, what is wrong in full below.
import type { Size } from '../layout.ts'
import { type Line, line, span } from '../line.ts'
import { padText, textWidth } from '../text.ts'
import type { Region } from '../view.ts'
import type { Field, FormSpec, FormState, Mistake } from './form.ts'
import { cleanSpaced, firstShown, frame, paragraph, roomOf } from './frame.ts'

const usualWidth = 16

/** The screen of the form as it stands. */
export function drawForm(spec: FormSpec, state: FormState, size: Size, foot: Line): Region[] {
  const room = roomOf(size)
  const rows = spec.rows(state.values)
  const mistakes = spec.check(state.values)
  const labelled = Math.min(24, Math.max(...rows.map(({ label }) => textWidth(label))) + 2)
  const intro = room.small ? [] : (spec.intro ?? []).flatMap((text) => paragraph(text, room.width, 1, 2))
  const at = rows.findIndex(({ fields }) => fields.some(({ name }) => name === state.at))
  const told = [...helpLines(rows[at]?.fields, state, room.width), ...mistakeLines(mistakes, state, room.width)]
  const below = told.slice(0, Math.max(2, Math.floor(room.body / 3)))
  const head = [...intro, ...(intro.length > 0 ? [line('')] : [])]
  const most = Math.max(1, room.body - head.length - below.length - 1)
  const first = firstShown(at, rows.length, most)
  const shown = rows.slice(first, first + most).map((row, i): Line => {
    const wrong = row.fields.some(({ name }) => mistakes.some((mistake) => concerns(mistake, name)))
    return [
      span(first + i === at ? ' ► ' : '   ', 'accent'),
      span(padText(row.label, labelled), first + i === at ? 'strong' : 'plain'),
      ...row.fields.flatMap((field) => fieldSpans(field, state)),
      ...(wrong ? [span(' ✗', 'bad')] : []),
    ]
  })
  const hidden = rows.length > most ? `row ${at + 1} of ${rows.length}` : ''
  return frame(size, spec.title, hidden, [...head, ...shown, line(''), ...below], foot)
}

const concerns = (mistake: Mistake, name: string) => mistake.field === name || name.startsWith(`${mistake.field}.`)

function fieldSpans(field: Field, { values, at }: FormState): Line {
  const text = cleanSpaced(values[field.name] ?? '')
  const here = field.name === at
  const width = field.width ?? usualWidth
  const label = field.label === '' ? [] : [span(`${field.label} `, 'dim')]
  const unit = field.unit === undefined ? [] : [span(` ${field.unit}`, 'dim')]
  if (field.kind === 'choice')
    return [
      ...label,
      span(here ? '‹ ' : '  ', 'accent'),
      span(text || '–', here ? 'bar' : 'plain'),
      span(here ? ' ›  ' : '    ', 'accent'),
      ...unit,
    ]
  // The end of a long text is what is being typed.
  const kept = textWidth(text) >= width ? `…${[...text].slice(2 - width).join('')}` : text
  const box = here
    ? [span(kept, 'strong'), span(' ', 'bar'), span('_'.repeat(Math.max(0, width - textWidth(kept) - 1)), 'dim')]
    : [span(padText(kept === '' ? '·' : kept, width))]
  return [...label, ...box, ...unit, span('  ')]
}

function helpLines(fields: readonly Field[] | undefined, { at }: FormState, width: number): Line[] {
  const field = fields?.find(({ name }) => name === at)
  return field ? paragraph(field.help, width, 1, 2).map((l) => l.map((s) => ({ ...s, tone: 'dim' as const }))) : []
}

/** The mistake of the field in hand first, then the others. */
function mistakeLines(mistakes: readonly Mistake[], { at }: FormState, width: number): Line[] {
  const own = mistakes.filter((mistake) => concerns(mistake, at))
  const others = mistakes.filter((mistake) => !own.includes(mistake))
  if (mistakes.length === 0) return [line(' ✓ Nothing is wrong.', 'good')]
  return [...own, ...others].flatMap(({ text }) =>
    paragraph(`✗ ${text}`, width, 1, 2).map((l): Line => l.map((s) => ({ ...s, tone: 'bad' as const }))),
  )
}
