// The state of a run into a few lines without pictures: for a small terminal and for a screen reader. The most needed comes first.
import { ratingOf } from '../core/part.ts'
import { ohmText } from './contact-panel.ts'
import { keyLine } from './key-line.ts'
import type { Rect } from './layout.ts'
import { type Line, line, span, wrapLine } from './line.ts'
import { countText, linksLine } from './panels.ts'
import { liveStepPa, noNumber, stepText } from './pressure-text.ts'
import { cleanText } from './text.ts'
import { narrowNumbers, nextAfter, verdictRows } from './verdict-lines.ts'
import type { Shown } from './view.ts'
import { clockText, contactWords, phaseWords, positionWord, verdictWords } from './words.ts'

/** Lines for a screen of `rect`, wrapped; what does not fit is left out from the end, the keys never. */
export function fewLines(shown: Shown, rect: Rect): Line[] {
  const keys = keyLine(shown, rect.width)
  const lines =
    shown.live?.phase === 'ended' && shown.live.result ? endedLines(shown, rect.width) : runningLines(shown, rect.width)
  const wrapped = lines.flatMap((l) => wrapLine(l, rect.width, 3))
  return rect.height < 2 ? wrapped : [...wrapped.slice(0, rect.height - 1), keys]
}

function runningLines(shown: Shown, width: number): Line[] {
  const { live, part, screen } = shown
  if (screen.mode === 'question')
    return [line('End the test now? What was recorded stays on disk either way.', 'alarm')]
  if (screen.mode === 'note') return [[span('Note: ', 'strong'), span(screen.draft), span(' ', 'bar')]]
  const { unit } = ratingOf(part)
  const stepPa = liveStepPa(part)
  const pressurePa = live?.pressurePa ?? null
  const pascal = unit === 'Pa' ? '' : `, ${stepText(pressurePa, stepPa, 'Pa')} Pa`
  const rate = live?.ratePaPerS ?? null
  const rateText = `rate ${rate === null ? noNumber : `${stepText(rate, ratingOf(part).ratedPa / 2000, 'Pa')} Pa/s`}`
  const ohm = live?.ohm == null ? '' : `, ${ohmText(live.ohm)}`
  const rows = live?.result ? verdictRows(live.result, part) : null
  return [
    ...(live?.alarm ? [line(`ALARM: ${cleanText(live.alarm)}`, 'alarm')] : []),
    [span(`${stepText(pressurePa, stepPa, unit)} ${unit}`, 'strong'), span(`${pascal}, ${rateText}`)],
    [
      span(contactWords[live?.contact ?? 'unknown'].full, 'strong'),
      span(`, ${positionWord(live?.actuated ?? null)}${ohm}`),
    ],
    [span('Next: '), span(live ? cleanText(live.next) : 'Waiting for the instruments.', 'strong')],
    line(
      `${shown.simulated ? 'SIMULATED BENCH, ' : ''}${phaseWords[live?.phase ?? 'waiting']}, ${countText(live)}, ${clockText(live?.elapsedS ?? 0)}`,
    ),
    ...(rows ? [...narrowNumbers(rows.numbers.slice(0, 3), width), ...rows.findings] : []),
    linksLine(shown),
    line(cleanText(shown.title), 'dim'),
  ]
}

function endedLines({ live, part, simulated, title }: Shown, width: number): Line[] {
  const result = live!.result!
  const rows = verdictRows(result, part)
  const { word, sign, tone } = verdictWords[result.verdict]
  return [
    [span(`${sign} ${word}`, tone), span(simulated ? '  SIMULATED BENCH' : '')],
    [rows.reason],
    ...narrowNumbers(rows.numbers, width),
    ...rows.findings,
    line(`Next: ${nextAfter(result.verdict, simulated)}`),
    line(cleanText(title), 'dim'),
  ]
}
