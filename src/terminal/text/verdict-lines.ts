// A result into the lines that say it: the verdict's word, the reason, the numbers with their limits, findings, what to do next.
import type { Blocked } from '../../core/decision/verdict.ts'
import { type LimitPa, type Part, ratingOf } from '../../core/model/part.ts'
import type { Estimate, LimitResult, Result, Verdict } from '../../core/model/result.ts'
import type { PressureUnit } from '../../core/model/units.ts'
import {
  allowanceText,
  limitsText,
  noNumber,
  oneUnitText,
  readingStep,
  uncertainNumbers,
  unitsShown,
} from '../../core/text/pressure-text.ts'
import { type Line, lineWidth, type Span, span } from './line.ts'
import { recordedText } from './recorded-text.ts'
import { cleanText, padText, textWidth } from './text.ts'
import { type Grounds, reasonOf } from './verdict-reason.ts'
import { effectWords, limitNames, outcomeWord, outcomeWords, showsOutcomes, verdictWords } from './words.ts'

const nextSteps: Record<Verdict, string> = {
  pass: 'Label the part, keep the recording with it, fit it only where its rating is called for; local codes and licensed practice come first.',
  fail: 'Mark the part, set it apart and do not fit it; never bridge a switch to get by without it.',
  undecided: 'Not passed. Do what the reason names, then test again; until then treat the part as not proven.',
  void: 'Not a test of the part. Correct what the reason names, then start again from the zero.',
  'not-assessed':
    'Nothing is decided. To have it decided, state limits in the part file and the accuracy of the manometer in the rig.',
}

const stepsWhenBlocked: Record<Blocked['why'], string> = {
  purpose: 'Nothing is decided. To have the part decided, test it to certify it.',
  'no-limits': 'Nothing is decided. State the limits in the part file, then test again.',
  'no-unsafe-limit':
    'Nothing is decided. State that limit in the part file (draft-proving: the low one, blockage: the high one), then test again.',
  'no-accuracy': 'Nothing is decided. State accuracy or certificate of the manometer in the rig, then test again.',
  overdue: 'Nothing is decided. Have the manometer calibrated, put the new date into the rig, then test again.',
  'meter-overdue': 'Nothing is decided. Have the meter calibrated, put the new date into the rig, then test again.',
}

/**
 * What to do after `verdict`, in one sentence or two; after a `simulated` run that no real part was tested comes first. Where
 * the recording is astray, that is seen to before all that the verdict asks for, unless it failed.
 */
export function nextAfter(
  verdict: Verdict,
  simulated: boolean,
  { blocked = null, astray = null }: Grounds = {},
): string {
  const step = verdict === 'not-assessed' && blocked ? stepsWhenBlocked[blocked.why] : nextSteps[verdict]
  const steps = astray ? `${verdict === 'fail' ? step : 'The part is not proven.'} ${astray.next}` : step
  return simulated ? `Simulated, no real part tested: ${steps}` : steps
}

/**
 * The rows of a verdict, with tones: reason, numbers, findings. `result` may be one without any cycle: its numbers show
 * as `–`; `allowed` is what may lie beyond their U. Word and next step are left to the caller, who may show them larger.
 */
export function verdictRows(
  result: Result,
  part: Part,
  grounds: Grounds = {},
): { reason: Span; numbers: Line[]; allowed: Line[]; findings: Line[] } {
  return {
    reason: span(reasonOf(result, part, grounds)),
    numbers: numberRows(result, part, (grounds.phase ?? 'ended') === 'ended'),
    allowed: allowedRows(result, part),
    findings: result.findings.map((f) => [
      span(`${effectWords[f.effect].word}: `, effectWords[f.effect].tone),
      span(cleanText(f.text)),
    ]),
  }
}

/** The whole verdict as plain lines, for a log or a screen reader. */
export function verdictLines(
  result: Result,
  part: Part,
  { simulated = false, ...grounds }: Grounds & { simulated?: boolean } = {},
): string[] {
  const rows = verdictRows(result, part, grounds)
  return [
    [span(`Verdict: ${verdictWords[result.verdict].word}`)],
    [rows.reason],
    ...rows.numbers,
    ...rows.allowed,
    // The code is what other programs know a finding by.
    ...rows.findings.map((f, i) => [span('Finding, '), ...f, span(` (${cleanText(result.findings[i]!.code)})`)]),
    ...actedRows(result.acted),
    ...recordedRows(result),
    ...qualityRows(result.quality),
    ...signatureRows(grounds),
    [span(`Next: ${nextAfter(result.verdict, simulated, grounds)}`)],
  ].map((row) => row.map((s) => s.text).join(''))
}

/** Key and state of the signature; none where nobody looked. */
export const signatureRows = ({ signature = null }: Grounds): Line[] =>
  signature === null ? [] : [[span(`Signature: ${cleanText(signature)}.`)]]

function recordedRows(result: Result): Line[] {
  const text = recordedText(result)
  return text === '' ? [] : [[span(`Then and now: ${text}.`)]]
}

/** What so many strokes can show: 1 − (1 − p)ⁿ is the chance to see a fault that comes in a share p of them. */
function actedRows({ strokes, made, released }: Result['acted']): Line[] {
  const acted = Math.min(made, released)
  if (acted === 0) return []
  const rarest = (n: number) => Math.round(1 / (1 - (1 - seenChance) ** (1 / n)))
  const every = rarest(strokes)
  const longer = strokes < manyStrokes ? `, with --strokes ${manyStrokes} one of ${rarest(manyStrokes)}` : ''
  const shown = every > 1 ? `; a fault in one stroke of ${every} would have been seen 9 times in 10${longer}` : ''
  return [[span(`Strokes: it acted in ${acted} of ${strokes}${shown}.`)]]
}
const seenChance = 0.9
/** A longer test to be offered: practice, no source. */
const manyStrokes = 30

/** What was wrong with the lines of the instruments, all of it in one row; none where nothing was. */
function qualityRows(quality: Result['quality']): Line[] {
  const told = Object.entries(quality).flatMap(([port, of]) => {
    const faults = [
      [of.unreadable, 'not readable'],
      [of.implausible, 'wild'],
      [of.gaps, of.gaps === 1 ? 'gap' : 'gaps'],
      [of.clumps, of.clumps === 1 ? 'time several at once' : 'times several at once'],
    ] as const
    const words = faults.flatMap(([count, word]) => (count > 0 ? [`${count} ${word}`] : []))
    return words.length > 0 ? [`${port} ${words.join(', ')}, of ${of.lines}`] : []
  })
  return told.length > 0 ? [[span(`Lines: ${told.join('; ')}.`)]] : []
}

/** How much lower or higher than their U the quantities may be, in one row; none where that rounds to nothing. */
function allowedRows(result: Result, part: Part): Line[] {
  const { unit, ratedPa } = ratingOf(part)
  const told = (['make', 'break', 'differential'] as const).flatMap((name) => {
    const text = allowanceText(result[name], unit, readingStep(ratedPa))
    return text === null ? [] : [`${name} up to ${text}`]
  })
  return told.length > 0 ? [[span(`Lag or leak not ruled out: ${told.join('; ')}.`)]] : []
}

/** The number rows of a verdict, without the column in pascal where they would not fit into `width` cells, then without limits. */
export function narrowNumbers(rows: Line[], width: number): Line[] {
  const forms = [rows, rows.map((row) => row.toSpliced(2, 1)), rows.map((row) => row.toSpliced(2, 2))]
  return forms.find((form) => form.every((row) => lineWidth(row) <= width)) ?? forms.at(-1)!
}

function numberRows(result: Result, part: Part, ended: boolean): Line[] {
  const { unit, ratedPa } = ratingOf(part)
  const step = readingStep(ratedPa)
  /** A cell for each of two units; the second stays empty where the rating is in Pa. */
  const cells = (write: (as: PressureUnit) => string) => [...unitsShown(unit).map(write), ''].slice(0, 2)
  const shows = showsOutcomes(result)
  const judged = (limit: LimitResult | undefined, text: (limit: LimitPa) => string | null, had: boolean) => [
    (limit && text(limit)) ?? 'no limit',
    limit ? (shows ? outcomeWord(limit.outcome, had, ended) : noNumber) : 'measured',
  ]
  const limitOf = (name: LimitResult['name']) => result.limits.find((l) => l.name === name)
  const estimate = (name: 'make' | 'break' | 'differential', value: Estimate) => [
    limitNames[name],
    ...cells((as) => `${uncertainNumbers(value, as, step)} ${as}`),
    ...judged(limitOf(name), (l) => limitsText(l, unit), value.valuePa !== null),
  ]
  const first = (name: 'first-make' | 'first-break', valuePa: number | null) => {
    if (valuePa === null && !limitOf(name)) return []
    const limits = judged(limitOf(name), (l) => limitsText(l, unit), valuePa !== null)
    return [[limitNames[name], ...cells((as) => oneUnitText(valuePa, as, step)), ...limits]]
  }
  const { medianOhm } = result.contact
  const ohm = medianOhm === null ? noNumber : medianOhm.toFixed(2)
  const contact =
    medianOhm === null && !limitOf('contact')
      ? []
      : [
          [
            limitNames.contact,
            `${ohm} ohm`,
            '',
            ...judged(limitOf('contact'), (l) => `at most ${l.highPa ?? noNumber} ohm`, medianOhm !== null),
          ],
        ]
  return alignRows([
    estimate('make', result.make),
    estimate('break', result.break),
    estimate('differential', result.differential),
    ...first('first-make', result.firstStroke.makePa),
    ...first('first-break', result.firstStroke.breakPa),
    ...contact,
  ])
}

// The last column is the outcome and takes its tone.
function alignRows(rows: string[][]): Line[] {
  const widths = rows.reduce<number[]>((all, row) => row.map((cell, i) => Math.max(all[i] ?? 0, textWidth(cell))), [])
  const tones = new Map(Object.values(outcomeWords).map((o) => [o.word, o.tone]))
  return rows.map((row) =>
    row.map((cell, i) => {
      const last = i === row.length - 1
      return span(
        last ? cell : `${padText(cell, widths[i]!)}  `,
        last ? (tones.get(cell) ?? 'dim') : i === 0 ? 'strong' : 'plain',
      )
    }),
  )
}
