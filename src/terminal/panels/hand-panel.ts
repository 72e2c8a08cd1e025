// The guide of a run into a few rows for the hand: a bar for the rate, the way to the next point, and what the pace costs.
import type { Guide } from '../../core/guide/guidance.ts'
import { type Rating, ratingOf } from '../../core/model/part.ts'
import type { PressureUnit } from '../../core/model/units.ts'
import { numberText, oneUnitText, pressureText, readingStep, tripStep } from '../../core/text/pressure-text.ts'
import { clipLine, type Line, line, lineWidth, type Span, span, wrapLine } from '../text/line.ts'
import { padText } from '../text/text.ts'
import { stepWords } from '../text/words.ts'
import type { Rect } from './layout.ts'
import type { Shown } from './shown.ts'

export const paceWords = {
  free: { word: '', tone: 'dim' },
  still: { word: 'not moving', tone: 'dim' },
  'too-slow': { word: 'too slow', tone: 'warn' },
  good: { word: 'good pace', tone: 'good' },
  'too-fast': { word: 'too fast', tone: 'warn' },
} as const

export const targetWords = {
  make: 'to the make',
  peak: 'to the peak',
  break: 'to the break',
  hold: 'to the hold',
} as const

/** How far the bar goes below and above the good band, as factors. */
const beyond = 4
const nameWidth = 16

/** Two rows, or three where `rect` has them; empty rows where nothing is guided. */
export function handLines({ live, part }: Shown, rect: Rect): Line[] {
  const guide = live?.guide
  if (!guide || live.phase === 'ended') return []
  const rating = ratingOf(part)
  const { unit, ratedPa } = rating
  const width = rect.width - 2
  const second = wayLine(guide, live.pressurePa, unit, ratedPa, width)
  const told = costLine(guide, rating)
  const rows = [rateLine(guide, ratedPa, width), second]
  if (rect.height >= 3) rows.push(...(told ? wrapLine(told, width, rect.height - 2) : []))
  else if (told) {
    const gap = span('   ')
    const short = costLine(guide, rating, true) ?? told
    const way = shortWay(guide, unit, ratedPa)
    const forms = [[...second, gap, ...told], [...way, gap, ...told], [...way, gap, ...short], short]
    rows[1] = forms.find((form) => lineWidth(form) <= width) ?? short
  }
  return rows.map((l) => [span(' '), ...clipLine(l, width)])
}

function rateLine({ rate }: Guide, ratedPa: number, width: number): Line {
  const name = span(padText('rate', nameWidth), 'dim')
  if (!rate) return [name, span('no reading', 'dim')]
  const { word, tone } = paceWords[rate.pace]
  const shown = oneUnitText(Math.abs(rate.nowPaPerS), 'Pa', tripStep(ratedPa), '/s')
  const told: Span[] = [span(` ${padText(shown, 11, 'right')}  `), span(padText(word, 14), tone)]
  const room = Math.max(10, Math.min(60, width - nameWidth - lineWidth(told)))
  return [name, ...rateBar(rate, room), ...told]
}

/** The bar: dots where it is too slow, a thick line where it is good, hatched where the instruments no longer follow; a full block is the hand. */
export function rateBar(
  { lowPaPerS, mostPaPerS, nowPaPerS }: { lowPaPerS: number; mostPaPerS: number; nowPaPerS: number },
  width: number,
): Span[] {
  const from = Math.log(lowPaPerS / beyond)
  const to = Math.log(mostPaPerS * beyond)
  const columnOf = (rate: number) => {
    const share = (Math.log(Math.max(Math.abs(rate), 1e-9)) - from) / (to - from)
    return Math.round(Math.min(1, Math.max(0, share)) * (width - 1))
  }
  const [low, most, now] = [columnOf(lowPaPerS), columnOf(mostPaPerS), columnOf(nowPaPerS)]
  const spans: Span[] = []
  const put = (char: string, tone: Span['tone']) => {
    const last = spans.at(-1)
    if (last?.tone === tone) last.text += char
    else spans.push(span(char, tone))
  }
  for (let x = 0; x < width; x++) {
    if (x === now) put('█', 'strong')
    else if (x < low) put('·', 'dim')
    else if (x <= most) put('━', 'good')
    else put('░', 'warn')
  }
  return spans
}

/** How far it is to the next point of the stroke; at rest, how far the step has come. */
function wayLine(guide: Guide, pressurePa: number | null, unit: PressureUnit, ratedPa: number, width: number): Line {
  const bar = (share: number) => {
    const cells = Math.max(8, Math.min(30, width - 50))
    const full = Math.round(Math.min(1, Math.max(0, share)) * cells)
    return [span('█'.repeat(full), 'accent'), span('░'.repeat(cells - full), 'dim')]
  }
  const { target, step, steps } = guide
  const progress = steps.find((s) => s.name === step)?.progress ?? null
  if (guide.action === 'hold') {
    const heldS = Math.floor(guide.heldS)
    const wantedS = progress?.wanted ?? heldS
    return [
      span(padText('held', nameWidth), 'dim'),
      ...bar(heldS / wantedS),
      span(`  ${heldS} of ${wantedS} s`, 'strong'),
    ]
  }
  if (target && pressurePa !== null) {
    const left = pressureText(target.leftPa, unit, readingStep(ratedPa))
    const up = target.name !== 'break'
    const share = up ? pressurePa / target.pressurePa : 1 - target.leftPa / Math.max(ratedPa, target.leftPa)
    return [span(padText(targetWords[target.name], nameWidth), 'dim'), ...bar(share), span(`  ${left}`, 'strong')]
  }
  if (!progress) return [span(padText(stepWords[step], nameWidth), 'dim')]
  const of =
    progress.of === 's' ? `${progress.done} of ${progress.wanted} s` : `${progress.done} of ${progress.wanted} strokes`
  return [
    span(padText(stepWords[step], nameWidth), 'dim'),
    ...bar(progress.wanted === 0 ? 1 : progress.done / progress.wanted),
    span(`  ${of}`, 'strong'),
  ]
}

/** The way to the next point without a picture. */
function shortWay({ target }: Guide, unit: PressureUnit, ratedPa: number): Line {
  if (!target) return []
  return [
    span(`${targetWords[target.name]} `, 'dim'),
    span(oneUnitText(target.leftPa, unit, readingStep(ratedPa)), 'strong'),
  ]
}

/** The pace of a faster stroke in numbers; null where none is drawn. */
function briskLine({ step, rate, target }: Guide, unit: PressureUnit): Line | null {
  if (step !== 'fast-cycles' || !rate?.nearTrip || target === null) return null
  const pace = (paPerS: number) => numberText(paPerS, unit, { figures: 2 })
  const { lowPaPerS, aimPaPerS, mostPaPerS } = rate
  return line(
    `faster stroke: ${pace(aimPaPerS)} ${unit}/s, from ${pace(lowPaPerS)} to ${pace(mostPaPerS)}`,
    rate.pace === 'good' ? 'good' : 'warn',
  )
}

const tooMuch = { margin: 'too much, go slower', instruments: 'faster than the instruments follow' } as const

type Scale = Pick<Rating, 'unit' | 'ratedPa'>

/** What the pace costs, the pace of a faster stroke, or what eats the margin, in fewer words where `short`; null where there is nothing to tell. */
export function costLine(guide: Guide, { unit, ratedPa }: Scale, short = false): Line | null {
  // Finer than a reading: an error shown as 0 would say that there is none.
  const pa = (value: number) => oneUnitText(value, 'Pa', { stepPa: ratedPa / 600 })
  const { ballast, error } = guide
  if (ballast) {
    const advice = ballast.litres === null ? 'add ballast' : `add ballast, ${ballast.litres} L in all`
    return line(`tremor of ±${pa(ballast.tremorPa)} eats the margin: ${advice}`, 'warn')
  }
  if (!error) return briskLine(guide, unit)
  if (error.marginPa === null) return line(`at this rate ±${pa(error.errorPa)}; no limit to keep`, 'dim')
  const told = `${short ? '' : 'at this rate '}±${pa(error.errorPa)}, margin ${pa(error.marginPa)}`
  return error.exceeds === null ? line(`${told}: fine`, 'good') : line(`${told}: ${tooMuch[error.exceeds]}`, 'warn')
}
