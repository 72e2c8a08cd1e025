// A result into the lines that say it: the verdict's word, the reason, the numbers with their limits, findings, what to do next.
import type { Settling } from '../core/decision/settling.ts'
import { type LimitPa, type Part, ratingOf } from '../core/part.ts'
import type { Estimate, LimitResult, Result, Verdict } from '../core/result.ts'
import type { PressureUnit } from '../core/units.ts'
import { type Line, lineWidth, type Span, span } from './line.ts'
import { limitsText, liveStepPa, noNumber, stepText, uncertainText } from './pressure-text.ts'
import { cleanText, padText, textWidth } from './text.ts'
import { reasonOf } from './verdict-reason.ts'
import { effectWords, limitNames, outcomeWords, verdictWords } from './words.ts'

const nextSteps: Record<Verdict, string> = {
  pass: 'Label the part and keep the recording with it. Fit it only where its rating is the one the appliance calls for; local codes and licensed practice come first.',
  fail: 'Mark the part, set it apart and do not fit it; never bridge a switch to get by without it.',
  undecided: 'Not passed. Do what the reason names, then test again; until then treat the part as not proven.',
  void: 'Not a test of the part. Mend what the reason names, then start again from the zero.',
  'not-assessed':
    'Measured, nothing decided. To have it decided, state limits in the part file and use a gauge with a valid certificate.',
}

const afterSimulation = 'Nothing to label or to fit: the bench is simulated, no real part was tested.'

/** What to do after `verdict`, in one sentence or two; after a `simulated` run there is no part to do it with. */
export const nextAfter = (verdict: Verdict, simulated: boolean): string =>
  simulated ? afterSimulation : nextSteps[verdict]

/**
 * The rows of a verdict, with tones: reason, numbers, findings. `result` may be one without any cycle: its numbers show
 * as `–`. Word and next step are left to the caller, who may show them larger.
 */
export function verdictRows(
  result: Result,
  part: Part,
  settlings: readonly Settling[] = [],
): { reason: Span; numbers: Line[]; findings: Line[] } {
  return {
    reason: span(reasonOf(result, part, settlings)),
    numbers: numberRows(result, part),
    findings: result.findings.map((f) => [
      span(`${effectWords[f.effect].word}: `, effectWords[f.effect].tone),
      span(`${cleanText(f.code)}: ${cleanText(f.text)}`),
    ]),
  }
}

/** The whole verdict as plain lines, for a log or a screen reader. */
export function verdictLines(
  result: Result,
  part: Part,
  { simulated = false, settlings = [] }: { simulated?: boolean; settlings?: readonly Settling[] } = {},
): string[] {
  const rows = verdictRows(result, part, settlings)
  return [
    [span(`Verdict: ${verdictWords[result.verdict].word}`)],
    [rows.reason],
    ...rows.numbers,
    ...rows.findings.map((f) => [span('Finding, '), ...f]),
    [span(`Next: ${nextAfter(result.verdict, simulated)}`)],
  ].map((row) => row.map((s) => s.text).join(''))
}

/** The number rows of a verdict, without the column in pascal where they would not fit into `width` cells, then without limits. */
export function narrowNumbers(rows: Line[], width: number): Line[] {
  const forms = [rows, rows.map((row) => row.toSpliced(2, 1)), rows.map((row) => row.toSpliced(2, 2))]
  return forms.find((form) => form.every((row) => lineWidth(row) <= width)) ?? forms.at(-1)!
}

function numberRows(result: Result, part: Part): Line[] {
  const { unit } = ratingOf(part)
  const stepPa = liveStepPa(part)
  const limitOf = (name: LimitResult['name']) => result.limits.find((l) => l.name === name)
  const estimate = (name: 'make' | 'break' | 'differential', value: Estimate) => {
    const amount = (as: PressureUnit) => {
      const shown = uncertainText(value.valuePa, value.UPa, as, stepPa)
      return value.valuePa === null ? `${noNumber} ${as}` : `${shown.value} ± ${shown.U} ${as}`
    }
    return [
      limitNames[name],
      amount(unit),
      unit === 'Pa' ? '' : amount('Pa'),
      ...judged(limitOf(name), (l) => limitsText(l, unit)),
    ]
  }
  const first = (name: 'first-make' | 'first-break', valuePa: number | null) => {
    if (valuePa === null && !limitOf(name)) return []
    const pascal = unit === 'Pa' ? '' : `${stepText(valuePa, stepPa, 'Pa')} Pa`
    const limits = judged(limitOf(name), (l) => limitsText(l, unit))
    return [[limitNames[name], `${stepText(valuePa, stepPa, unit)} ${unit}`, pascal, ...limits]]
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
            ...judged(limitOf('contact'), (l) => `at most ${l.highPa ?? noNumber} ohm`),
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

function judged(limit: LimitResult | undefined, text: (limit: LimitPa) => string | null): [string, string] {
  if (!limit) return ['no limit', 'measured']
  return [text(limit) ?? 'no limit', outcomeWords[limit.outcome].word]
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
