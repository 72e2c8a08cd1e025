// The state of a run into the lines of each panel of the bench screen.

import { ratingOf } from '../../core/model/part.ts'
import type { PressureUnit } from '../../core/model/units.ts'
import { portText } from '../../core/text/port-text.ts'
import { numberText, oneUnitText, readingStep, tripStep, unitsShown } from '../../core/text/pressure-text.ts'
import { bigScale, bigText } from '../text/big-text.ts'
import { type Line, line, lineWidth, type Span, span, spread, wrapLine } from '../text/line.ts'
import { cleanText, padText } from '../text/text.ts'
import { clockText, cycleWord, effectWords, linkWords, phaseWords, shortStepWords, stepWords } from '../text/words.ts'
import { bandLines } from './band-panel.ts'
import { contactLines } from './contact-panel.ts'
import { estimateLines } from './estimate-panel.ts'
import { handLines } from './hand-panel.ts'
import { keyLine } from './key-line.ts'
import type { Layout, Place, Rect } from './layout.ts'
import { loopLines } from './loop-panel.ts'
import { sayLines } from './say-panel.ts'
import type { Shown } from './shown.ts'
import { traceLines } from './trace-panel.ts'

export type PanelMaker = (shown: Shown, rect: Rect, layout: Layout) => Line[]

/** For each place of the layout what makes its lines. */
export const panelMakers: Record<Place, PanelMaker> = {
  header: (shown, rect) => [headerLine(shown, rect.width)],
  steps: (shown, rect) => [stepsLine(shown, rect.width)],
  say: sayLines,
  pressure: pressureLines,
  contact: contactLines,
  hand: handLines,
  loop: loopLines,
  bands: bandLines,
  trace: traceLines,
  estimates: estimateLines,
  cycles: cycleLines,
  findings: findingLines,
  links: (shown, rect) => [footLine(shown, rect.width)],
  keys: (shown, rect) => [keyLine(shown, rect.width)],
}

function headerLine({ live, title, simulated, speed = 1 }: Shown, width: number): Line {
  const narrow = width < 100
  const right: Span[] = []
  const pace = speed === 1 ? '' : ` ×${speed}`
  if (simulated)
    right.push(span(narrow ? ` SIMULATED${pace} ` : ` SIMULATED BENCH${pace && `, time${pace}`} `, 'alarm'))
  const count = narrow ? countText(live).replace(/ of (\d+) counted/, '/$1') : countText(live)
  const phase = phaseWords[live?.phase ?? 'waiting']
  right.push(span(`  ${phase}  ${count}  ${clockText(live?.elapsedS ?? 0)} `, 'bar'))
  return spread([span(` ${cleanText(title)}`, 'bar')], right, width, 'bar')
}

/** `3 of 6 counted`; where no more are wanted, or none at all, `3 counted`. */
export function countText(live: Shown['live']): string {
  if (!live) return '0 counted'
  return live.used <= live.wanted ? `${live.used} of ${live.wanted} counted` : `${live.used} counted`
}

const stepSigns = { todo: ' ', now: '►', done: '✓', skipped: '–' } as const

/** The steps in a row with what is done of the one at hand; short names where the long ones do not fit, and then only signs of what is over. */
function stepsLine({ live }: Shown, width: number): Line {
  const steps = live?.guide?.steps ?? []
  const rowOf = (words: typeof stepWords, gap: string, namesAll = true) =>
    steps.flatMap(({ name, state, progress }) => {
      const here = state === 'now'
      const count =
        here && progress
          ? ` ${Math.min(progress.done, progress.wanted)}/${progress.wanted}${progress.of === 's' ? ' s' : ''}`
          : ''
      const isNamed = namesAll || here || state === 'todo'
      const text = isNamed ? `${stepSigns[state]} ${words[name]}${count}` : stepSigns[state]
      return [span(' '), span(here ? ` ${text} ` : text, here ? 'bar' : state === 'done' ? 'plain' : 'dim'), span(gap)]
    })
  const rows = [rowOf(stepWords, ' '), rowOf(shortStepWords, '')]
  return rows.find((row) => lineWidth(row) <= width) ?? rowOf(shortStepWords, '', false)
}

function pressureLines({ live, part }: Shown, rect: Rect, layout: Layout): Line[] {
  const { unit, ratedPa } = ratingOf(part)
  const digits = readingStep(ratedPa)
  const pressurePa = live?.pressurePa ?? null
  const number = numberText(pressurePa, unit, digits)
  // The place of the sign stays free, so that the digits never jump when the pressure crosses zero.
  const signed = number.startsWith('-') ? number : ` ${number}`
  const scale = bigScale(signed, rect.width, rect.height - 1, layout.scale)
  const picture = scale > 0 ? bigText(signed, scale) : [signed]
  // Every number has the room of the largest one, so that nothing moves and nothing comes and goes.
  const room = oneUnitText(-2 * ratedPa, 'Pa', digits).length
  const pascal = unit === 'Pa' ? '' : ` (${oneUnitText(pressurePa, 'Pa', digits).padStart(room)})`
  const captions = [unitsShown(unit), [unit], ['Pa' as const]].map(
    (units): Line => [
      span(unit, 'strong'),
      span(`${pascal}  `),
      ...rateSpans(live?.ratePaPerS ?? null, ratedPa, units),
    ],
  )
  const caption = captions.find((l) => lineWidth(l) <= rect.width) ?? captions.at(-1)!
  return [...picture.map((row) => line(row, 'strong')), caption]
}

/** The rate at which a ramp counts as not moving, in rated points a second: the lower end of useful ramps; common practice, no source. */
const restingRate = 0.002

/** Fast for a hand, in rated points a second: rates have the room of this one; common practice, no source. */
const fastRate = 0.2

function rateSpans(ratePaPerS: number | null, ratedPa: number, units: readonly PressureUnit[]): Span[] {
  const size = ratePaPerS === null ? null : Math.abs(ratePaPerS)
  const sign = size === null ? ' ' : size < restingRate * ratedPa ? '=' : ratePaPerS! > 0 ? '▲' : '▼'
  const rates = units.map((unit) => {
    const text = (pa: number | null) => oneUnitText(pa, unit, tripStep(ratedPa), '/s')
    return text(size).padStart(text(fastRate * ratedPa).length)
  })
  const [own = '', pascal] = rates
  const told = pascal === undefined ? own : `${own} (${pascal})`
  return [span(`${sign} `, 'accent'), span(told, size === null ? 'dim' : 'plain')]
}

function cycleLines({ live, part }: Shown, rect: Rect): Line[] {
  const { unit, ratedPa } = ratingOf(part)
  const cycles = live?.result?.cycles ?? []
  const roomy = rect.width >= 50
  const [first, each] = roomy ? [7, 9] : [3, 8]
  const cell = (pa: number | null) => padText(numberText(pa, unit, tripStep(ratedPa)), each, 'right')
  const heads = roomy ? ['make', 'break', 'diff.'] : ['make', 'break']
  const head = padText(roomy ? 'stroke' : 'no.', first) + heads.map((name) => padText(name, each, 'right')).join('')
  const rows = cycles.slice(-(rect.height - 1)).map((c): Line => {
    const difference = c.makePa === null || c.breakPa === null ? null : c.makePa - c.breakPa
    const numbers = [c.makePa, c.breakPa, ...(roomy ? [difference] : [])].map(cell).join('')
    const tone = c.used ? 'plain' : 'dim'
    return [
      span(padText(padText(String(c.stroke), 3, 'right'), first) + numbers, tone),
      span(`  ${c.used ? '✓' : '·'} ${cycleWord(c)}`, c.used ? 'good' : 'dim'),
    ]
  })
  return [line(head, 'dim'), ...(rows.length > 0 ? rows : [line('  no stroke yet', 'dim')])]
}

/** Whether there is a finding to tell: before the first stroke what a contact at rest shows is none yet. */
export const hasFindings = ({ live }: Pick<Shown, 'live'>): boolean =>
  (live?.result?.cycles.length ?? 0) > 0 && (live?.result?.findings.length ?? 0) > 0

/** All that fit, the gravest first; on a single row that one, with how many there are. */
function findingLines({ live }: Shown, rect: Rect): Line[] {
  const findings = hasFindings({ live }) ? live!.result!.findings : []
  const [worst] = findings
  if (rect.height < 2 && worst) {
    const { word, tone } = effectWords[worst.effect]
    const count = findings.length > 1 ? ` (1 of ${findings.length} findings)` : ''
    return [[span(` ${word}${count}: `, tone), span(cleanText(worst.text))]]
  }
  const rows = findings.flatMap((f) =>
    wrapLine(
      [span(`${effectWords[f.effect].word}: `, effectWords[f.effect].tone), span(cleanText(f.text))],
      rect.width - 2,
      2,
    ),
  )
  const title = line(` findings${findings.length === 0 ? ': none' : ''}`, 'dim')
  return [title, ...rows.map((l): Line => [span('  '), ...l])]
}

/** Ports on the left, the size of the recording on the right. */
function footLine(shown: Shown, width: number): Line {
  const bytes = shown.live?.recordedBytes ?? null
  const size = bytes === null ? [] : line(`recorded ${sizeText(bytes)} `, 'dim')
  return spread(linksLine(shown, width - lineWidth(size) - 1), size, width)
}

function sizeText(bytes: number): string {
  if (bytes < 1e6) return `${Math.ceil(bytes / 1e3)} kB`
  return `${(bytes / 1e6).toFixed(1)} MB`
}

/** Ports, whether they are there, how fast they read and what they could not read: why not only where all of it fits. */
export function linksLine({ live, part }: Pick<Shown, 'live' | 'part'>, width = Number.POSITIVE_INFINITY): Line {
  const links = live?.links ?? []
  if (links.length === 0) return line(' no instrument opened yet', 'dim')
  const { unit, ratedPa } = ratingOf(part)
  const told = (why: boolean) =>
    links.flatMap((link): Span[] => {
      const { sign, word, tone } = linkWords[link.state]
      const rate = link.readingsPerS === null ? '' : ` ${link.readingsPerS.toFixed(1)}/s`
      const last = link.lastFault === null || !why ? '' : ` (${cleanText(link.lastFault)})`
      const faults = link.faults === 0 ? '' : ` ${link.faults} unread${last}`
      const pa = link.port === 'manometer-2' ? (live?.atSwitchPa ?? null) : null
      const shown = pa === null ? '' : `, at the switch: ${oneUnitText(pa, unit, readingStep(ratedPa))}`
      const name = span(` ${portText(link.port)} `)
      return [name, span(`${sign} ${word}`, tone), span(rate), span(shown), span(faults, 'warn'), span('  ')]
    })
  const whole = told(true)
  return lineWidth(whole) <= width ? whole : told(false)
}
