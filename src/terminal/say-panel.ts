// What the hands do next into large letters with a sentence beside them; above all what is wrong now.
import { bigScale, bigText, bigWidth } from './big-text.ts'
import type { Rect } from './layout.ts'
import { type Line, line, type Span, span, wrapLine } from './line.ts'
import { cleanText, padText } from './text.ts'
import type { Shown } from './view.ts'
import { actionWords, effectWords, stepWords } from './words.ts'

/** The widest of the action words: all stand in the same room, so that the sentence never jumps. */
const widestWord = 'LET DOWN'

/** The rows: the action large on the left where there are three rows for it, the sentences on the right. */
export function sayLines(shown: Shown, rect: Rect): Line[] {
  const { live, screen } = shown
  if (screen.mode === 'question')
    return [line(' End the test now? What was recorded stays on disk either way.', 'alarm')]
  const asked = textAsked(shown)
  if (asked) return [asked]
  const guide = live?.guide ?? null
  const scale = guide ? bigScale(widestWord, Math.floor(rect.width / 2), rect.height, 2) : 0
  const bare = () =>
    wrapAll([...urgent(live, false), ...besides(live)], rect.width - 2, rect.height).map((l): Line => [span(' '), ...l])
  if (!guide || scale === 0) return bare()
  const { word, tone } = actionWords[guide.action]
  const left = bigWidth(widestWord, scale) + 2
  const picture = bigText(word, scale).map((row) => span(padText(` ${row}`, left), tone === 'alarm' ? 'bad' : tone))
  const width = rect.width - left - 3
  // A sentence that is read whole is worth more than the picture of its word.
  if (wrapAll(urgent(live, true), width, Number.POSITIVE_INFINITY).length > rect.height) return bare()
  const right = wrapAll([...urgent(live, true), ...besides(live)], width, rect.height)
  return Array.from({ length: rect.height }, (_, i) => [
    picture[i] ?? span(' '.repeat(left)),
    span('  '),
    ...(right[i] ?? []),
  ])
}

/** The line that is being typed; null where none is. */
export function textAsked({ screen }: Pick<Shown, 'screen'>): Line | null {
  if (screen.mode === 'note') return [span(' Note: ', 'strong'), span(screen.draft), span(' ', 'bar')]
  if (screen.mode !== 'skip' || screen.skips === null) return null
  return [span(` Why is the ${stepWords[screen.skips]} skipped? `, 'strong'), span(screen.draft), span(' ', 'bar')]
}

/** What is wrong comes first, then what the hands do next. */
function urgent(live: Shown['live'], worded: boolean): Span[][] {
  const next = live ? cleanText(live.next) : 'Waiting for the instruments.'
  const word = live?.guide && !worded ? `${actionWords[live.guide.action].word}: ` : ''
  return [
    ...(live?.alarm ? [[span(`! ${cleanText(live.alarm)}`, 'alarm')]] : []),
    [span('► ', 'accent'), span(word, 'good'), span(next, 'strong')],
  ]
}

/** Where there is room: what the bench shows, and what was found. */
function besides(live: Shown['live']): Span[][] {
  const trouble = live?.guide?.trouble
  // Before the first stroke what a contact at rest shows is no finding yet.
  const worst = (live?.result?.cycles.length ?? 0) > 0 ? live?.result?.findings[0] : undefined
  return [
    ...(trouble && trouble !== live.next ? [[span(cleanText(trouble), 'warn')]] : []),
    ...(worst && worst.text !== live?.next
      ? [[span(`${effectWords[worst.effect].word}: `, effectWords[worst.effect].tone), span(cleanText(worst.text))]]
      : []),
  ]
}

function wrapAll(rows: readonly Span[][], width: number, height: number): Line[] {
  const lines: Line[] = []
  for (const row of rows) lines.push(...wrapLine(row, width, height - lines.length))
  return lines
}

/** The cautions that wait to be acknowledged, each whole and on rows of its own, between their heading and the key that says they were read. */
export function cautionLines({ live, marks }: Shown, width: number): Line[] {
  const cautions = live?.guide?.cautions ?? []
  const rows = cautions.flatMap(({ text }) =>
    wrapLine(line(text), width - 5, 9).map((l, i): Line => [span(i === 0 ? ' !  ' : '    ', 'warn'), ...l]),
  )
  const foot: Line = marks
    ? [span(' Enter ', 'filled'), span('  all of this is understood; it is recorded', 'strong')]
    : []
  return [line(padText(' Before the first stroke', width), 'bar'), ...rows, foot]
}

/** What is known before the test. */
export function openingLines({ opening = [] }: Shown, width: number): Line[] {
  return opening.flatMap((text) => wrapLine(line(cleanText(text)), width - 2, 2)).map((l) => [span(' '), ...l])
}
