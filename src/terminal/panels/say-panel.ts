// What the hands do next into large letters with a sentence beside them; above all what is wrong now.

import { askedName } from '../../core/guide/typed-ask.ts'
import { stepRow } from '../../core/plan/test-steps.table.ts'
import { bigScale, bigText, bigWidth } from '../text/big-text.ts'
import { type Line, line, lineWidth, span, wrapLine } from '../text/line.ts'
import { cleanText, padText } from '../text/text.ts'
import { editorLine } from '../text/text-editor.ts'
import { actionWords, effectWords, stepWords } from '../text/words.ts'
import type { Rect } from './layout.ts'
import { isTextMode } from './screen-state.ts'
import type { Shown } from './shown.ts'

/** The widest of the action words: all stand in the same room, so that the sentence never jumps. */
const widestWord = 'LET DOWN'

/**
 * The rows: the action large on the left where there are three rows for it, the sentences on the right. A sentence that is
 * read whole is worth more than a steady place, and than the picture of its word.
 */
export function sayLines(shown: Shown, rect: Rect): Line[] {
  const { live } = shown
  const guide = live?.guide ?? null
  const scale = guide ? bigScale(widestWord, Math.floor(rect.width / 2), rect.height, 2) : 0
  if (guide && scale > 0) {
    const { word, tone } = actionWords[guide.action]
    for (const room of [widestWord, word]) {
      const left = bigWidth(room, scale) + 2
      const width = rect.width - left - 3
      if (wrapAll(urgent(shown, true, width), width, Number.POSITIVE_INFINITY).length > rect.height) continue
      const picture = bigText(word, scale).map((row) => span(padText(` ${row}`, left), tone === 'alarm' ? 'bad' : tone))
      const right = wrapAll([...urgent(shown, true, width), ...besides(live)], width, rect.height)
      return Array.from({ length: rect.height }, (_, i) => [
        picture[i] ?? span(' '.repeat(left)),
        span('  '),
        ...(right[i] ?? []),
      ])
    }
  }
  const rows = wrapAll([...urgent(shown, false, rect.width - 2), ...besides(live)], rect.width - 2, rect.height)
  return rows.map((row) => [span(' '), ...row])
}

/** Cells in which a text can be typed; with fewer the field goes below its question. */
const leastField = 8

/** What is asked for, and the field with what is typed so far, which scrolls in `width` cells; nothing where none is. */
export function textAsked({ screen }: Pick<Shown, 'screen'>, width: number): Line[] {
  if (screen.mode === 'question')
    return [line('End the test now? What was recorded stays on disk either way.', 'alarm')]
  if (!isTextMode(screen.mode)) return []
  const { mode, skips, ask } = screen
  const question = ask
    ? `Type ${askedName(ask)}, ${ask.unit}: `
    : mode === 'serial'
      ? 'Serial number: '
      : skips === null
        ? 'Note: '
        : `Why skip the step "${stepWords[skips]}"? `
  const asked = line(question, 'strong')
  const editor = { text: screen.draft, cursor: screen.cursor }
  const room = width - lineWidth(asked)
  return room < leastField ? [asked, editorLine(editor, width)] : [[...asked, ...editorLine(editor, room)]]
}

/** What is asked comes first and what a skip costs, then what is wrong, then what the hands do next. `worded`: its word is there already. */
function urgent(shown: Shown, worded: boolean, width: number): Line[] {
  const { live } = shown
  const next = live ? cleanText(live.next) : 'Waiting for the instruments.'
  const { mode, skips } = shown.screen
  const cost = mode === 'skip' && skips !== null ? stepRow(skips).without : null
  const action = live?.guide && !worded ? actionWords[live.guide.action] : null
  return [
    ...textAsked(shown, width),
    ...(cost === null ? [] : [line(cost, 'warn')]),
    ...(live?.alarm ? [[span(`! ${cleanText(live.alarm)}`, 'alarm')]] : []),
    [span('► ', 'accent'), ...(action ? [span(action.word, action.tone), span(' ')] : []), span(next, 'strong')],
  ]
}

/** Where there is room: what the bench shows, and what was found. */
function besides(live: Shown['live']): Line[] {
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

function wrapAll(rows: readonly Line[], width: number, height: number): Line[] {
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

/** What is known before the test as one paragraph of at most `height` rows; one that does not fit ends in `…`. */
export function openingLines({ opening = [] }: Shown, width: number, height: number): Line[] {
  return wrapLine(line(cleanText(opening.join(' '))), width - 2, height).map((row) => [span(' '), ...row])
}
