// The state of a run into a few lines without pictures: for a small terminal and for a screen reader. The most needed comes first.

import { ratingOf } from '../../core/model/part.ts'
import { oneUnitText, pressureText, readingStep, tripStep } from '../../core/text/pressure-text.ts'
import { type Line, line, span, wrapLine } from '../text/line.ts'
import { cleanText } from '../text/text.ts'
import { narrowNumbers, nextAfter, verdictRows } from '../text/verdict-lines.ts'
import {
  actionWords,
  clockText,
  contactWords,
  phaseWords,
  positionWord,
  stepWords,
  verdictWords,
} from '../text/words.ts'
import { ohmText } from './contact-panel.ts'
import { costLine, paceWords, targetWords } from './hand-panel.ts'
import { keyLine } from './key-line.ts'
import type { Rect } from './layout.ts'
import { countText, linksLine } from './panels.ts'
import { textAsked } from './say-panel.ts'
import type { Shown } from './shown.ts'

/** Lines for a screen of `rect`, wrapped; what does not fit is left out from the end, the keys never. */
export function fewLines(shown: Shown, rect: Rect): Line[] {
  const keys = keyLine(shown, rect.width)
  const lines =
    shown.live?.phase === 'ended' && shown.live.result ? endedLines(shown, rect.width) : runningLines(shown, rect.width)
  const wrapped = lines.flatMap((l) => wrapLine(l, rect.width, 3))
  return rect.height < 2 ? wrapped : [...wrapped.slice(0, rect.height - 1), keys]
}

function runningLines(shown: Shown, width: number): Line[] {
  const { live, part } = shown
  const { unit, ratedPa } = ratingOf(part)
  const pressure = pressureText(live?.pressurePa ?? null, unit, readingStep(ratedPa))
  const rate = oneUnitText(live?.ratePaPerS ?? null, 'Pa', tripStep(ratedPa), '/s')
  const pace = live?.guide?.rate ? paceWords[live.guide.rate.pace] : paceWords.free
  const ohm = live?.ohm == null ? '' : `, ${ohmText(live.ohm)}`
  const rows = live?.result ? verdictRows(live.result, part, live) : null
  const word = live?.guide ? actionWords[live.guide.action] : null
  return [
    ...textAsked(shown, width),
    ...(live?.alarm ? [line(`ALARM: ${cleanText(live.alarm)}`, 'alarm')] : []),
    ...cautionRows(shown),
    [
      span(pressure, 'strong'),
      span(`, rate ${rate}`),
      ...(pace.word === '' ? [] : [span(`, ${pace.word}`, pace.tone)]),
    ],
    [
      span(contactWords[live?.contact ?? 'unknown'].full, 'strong'),
      span(`, ${positionWord(live?.actuated ?? null)}${ohm}`),
    ],
    [
      span('Next: '),
      ...(word ? [span(`${word.word}. `, word.tone)] : []),
      span(live ? cleanText(live.next) : 'Waiting for the instruments.', 'strong'),
    ],
    ...handRows(shown),
    line(`${shown.simulated ? 'SIMULATED BENCH, ' : ''}${stepProgress(live)}, ${clockText(live?.elapsedS ?? 0)}`),
    ...(rows ? [...narrowNumbers(rows.numbers.slice(0, 3), width), ...rows.allowed, ...rows.findings] : []),
    linksLine(shown),
    line(cleanText(shown.title), 'dim'),
  ]
}

/** The cautions that wait, and the key that acknowledges them: before all else, since that key says they were read. */
function cautionRows({ live, marks }: Shown): Line[] {
  const cautions = live?.guide?.cautions ?? []
  if (cautions.length === 0) return []
  const texts = cautions.map(({ text }): Line => [span('! ', 'warn'), span(text)])
  return marks ? [line('Enter says that all of this is understood:', 'strong'), ...texts] : texts
}

/** How far it is to the next point, what the pace costs, and what is wrong with the bench. */
function handRows({ live, part }: Shown): Line[] {
  const guide = live?.guide
  if (!guide) return []
  const rating = ratingOf(part)
  const { ratedPa, unit } = rating
  const { target, trouble } = guide
  const cost = costLine(guide, rating)
  const left = target && oneUnitText(target.leftPa, unit, readingStep(ratedPa))
  return [
    ...(target ? [line(`${targetWords[target.name]}: ${left} to go`)] : []),
    ...(cost ? [cost] : []),
    ...(trouble && trouble !== live.next ? [line(cleanText(trouble), 'warn')] : []),
  ]
}

/** The step at hand and how far it has come; where nothing is guided the phase, and how many strokes count. */
function stepProgress(live: Shown['live']): string {
  const step = live?.guide?.steps.find((s) => s.state === 'now')
  if (!step) return `${phaseWords[live?.phase ?? 'waiting']}, ${countText(live)}`
  const { progress } = step
  return progress
    ? `${stepWords[step.name]} ${progress.done} of ${progress.wanted} ${progress.of}`
    : stepWords[step.name]
}

function endedLines({ live, part, simulated, title }: Shown, width: number): Line[] {
  const result = live!.result!
  const rows = verdictRows(result, part, live!)
  const { word, sign, tone } = verdictWords[result.verdict]
  return [
    [span(`${sign} ${word}`, tone), span(simulated ? '  SIMULATED BENCH' : '')],
    [rows.reason],
    ...narrowNumbers(rows.numbers, width),
    ...rows.allowed,
    ...rows.findings,
    line(`Next: ${nextAfter(result.verdict, simulated, live!)}`),
    line(cleanText(title), 'dim'),
  ]
}
