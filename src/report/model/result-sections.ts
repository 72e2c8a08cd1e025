// A result into the sections that hold its numbers: each in the unit of the rating first, then in Pa, with its limits and outcome.
import type { LimitPa } from '../../core/model/part.ts'
import type { LimitResult, Result } from '../../core/model/result.ts'
import { figuresText, givenText } from '../../core/text/figures-text.ts'
import {
  allowanceText,
  limitsText,
  noNumber,
  numberText,
  pressureText,
  readingStep,
  tripStep,
  uncertainNumbers,
  unitsShown,
} from '../../core/text/pressure-text.ts'
import { scatterName } from '../../core/text/scatter-name.ts'
import { notRecorded, type Section } from './report.ts'
import type { ReportInput } from './report-input.ts'
import { decidesLimits } from './standing.ts'

const quantities = ['make', 'break', 'differential'] as const

export function resultSections(input: ReportInput): Section[] {
  return [results(input), conformance(input)]
}

function results(input: ReportInput): Section {
  const { analysis, result, words } = input
  const { unit, ratedPa, limits } = analysis.setup.rating
  const units = unitsShown(unit)
  const step = readingStep(ratedPa)
  const outcomes = outcomesOf(input)
  const rows = quantities.map((name) => [
    words.limitNames[name],
    ...units.map((as) => uncertainNumbers(result[name], as, step)),
    result[name].k === null ? noNumber : result[name].k.toFixed(2),
    String(result[name].n),
    limitsText(limits[name], unit) ?? 'no limit',
    outcomes(name, result[name].valuePa !== null),
  ])
  const firsts = (['make', 'break'] as const).map((name) => {
    const { makePa, breakPa } = result.firstStroke
    const valuePa = name === 'make' ? makePa : breakPa
    const texts = units.map((as) => numberText(valuePa, as, step))
    return [
      words.limitNames[`first-${name}`],
      ...texts,
      noNumber,
      '1',
      limitsText(limits[name], unit) ?? 'no limit',
      outcomes(`first-${name}`, valuePa !== null),
    ]
  })
  const head = ['Result', ...units.map((as) => `Value ± U, ${as}`), 'k', 'n', `Limits, ${unit}`, 'Outcome']
  return {
    heading: 'Results',
    blocks: [
      { kind: 'table', head, rows: [...rows, ...firsts] },
      { kind: 'facts', facts: [...notRuledOut(input), ...scatters(input), ...contactFacts(input), actedFact(result)] },
    ],
  }
}

/** The outcome of a limit in a word; where the whole decides nothing no limit does. */
function outcomesOf({
  result,
  words,
  analysis,
}: ReportInput): (name: LimitResult['name'], measured: boolean) => string {
  const aside = analysis.setup.start.simulated ? ' (simulated)' : ''
  return (name, measured) => {
    const limit = result.limits.find((each) => each.name === name)
    if (limit === undefined) return 'measured'
    return decidesLimits(result) ? `${words.outcomeWord(limit.outcome, measured, true)}${aside}` : 'not decided'
  }
}

function notRuledOut({ analysis, result, words }: ReportInput) {
  const { unit, ratedPa } = analysis.setup.rating
  const told = quantities.flatMap((name) => {
    const text = allowanceText(result[name], unit, readingStep(ratedPa))
    return text === null ? [] : [`${words.limitNames[name]} up to ${text}`]
  })
  const value = told.length > 0 ? told.join('; ') : 'nothing that shows at the digits of U'
  return [{ label: 'Lag or leak not ruled out, beside U', value }]
}

function scatters({ analysis, result, words }: ReportInput) {
  const { unit } = analysis.setup.rating
  return quantities.flatMap((name) => {
    const { scatterPa, n } = result[name]
    if (scatterPa === null) return []
    return [
      {
        label: `Single trips of ${words.limitNames[name]}, ${scatterName(n)}`,
        value: `${pressureText(scatterPa, unit, { figures: 2 })}, ${n} cycles`,
      },
    ]
  })
}

function contactFacts(input: ReportInput) {
  const { analysis, result } = input
  const { maxOhm } = analysis.setup.rating
  const { medianOhm, maxOhm: worst, uOhm, poorShare } = result.contact
  const ohms = (ohm: number) => ohm.toFixed(2)
  const outcome = outcomesOf(input)('contact', medianOhm !== null)
  const u = uOhm === null ? 'u not known' : `u ${ohms(uOhm)}`
  const value =
    medianOhm === null
      ? `not measured; limit ${maxOhm === null ? 'none' : `at most ${maxOhm} ohm`}; ${outcome}`
      : `${ohms(medianOhm)} ohm median, ${worst === null ? noNumber : ohms(worst)} ohm most, ${u} ohm, leads off; ${maxOhm === null ? 'no limit' : `limit at most ${maxOhm} ohm`}; ${outcome}`
  return [
    { label: 'Contact resistance', value },
    {
      label: 'Closures with readings neither closed nor open',
      value: poorShare === null ? null : `${givenText(100 * poorShare, 2)} %`,
    },
    { label: 'Test current and voltage of the contact', value: null },
  ]
}

function actedFact({ acted }: Result) {
  const both = Math.min(acted.made, acted.released)
  const detail = `made in ${acted.made}, let go in ${acted.released}, discarded ${acted.discarded}`
  return { label: 'Acted', value: `in ${both} of ${acted.strokes} strokes; ${detail}` }
}

function conformance(input: ReportInput): Section {
  const { result, analysis, words } = input
  const { unit } = analysis.setup.rating
  const share = (p: number) => (p > 0.9995 ? '> 99.9 %' : p < 0.0005 ? '< 0.1 %' : `${figuresText(100 * p, 3)} %`)
  const shows = decidesLimits(result)
  const rows = result.limits.map((limit) => {
    const known = shows ? limit.conformance : null
    return [
      words.limitNames[limit.name],
      limitIn(limit, unit),
      known === null ? 'not stated' : share(known),
      known === null ? 'not stated' : share(1 - known),
    ]
  })
  const { rule, guardFactor, risk } = analysis.setup.rig
  const rules = {
    guarded: `guarded: ${guardFactor} × U is kept off each limit, at least 1 × U on the side where a wrong switch is dangerous`,
    simple: 'simple: nothing is kept off a limit, but 1 × U on the side where a wrong switch is dangerous',
    risk: `risk: a part exactly at a limit passes with a chance of at most ${share(risk)}; at least 1 × U is kept off where a wrong switch is dangerous`,
  } as const
  const singles = 'Each single counted trip and the first stroke must lie within the plain limits.'
  return {
    heading: 'Rule and risk',
    blocks: [
      { kind: 'sentences', sentences: [`Decision rule, ${rules[rule]}. ${singles}`] },
      { kind: 'table', head: ['Limit of', 'Limits', 'Conforms, chance', 'Does not, risk'], rows },
    ],
  }
}

function limitIn(limit: LimitResult, unit: Parameters<typeof limitsText>[1]): string {
  if (limit.name === 'contact') return limit.highPa === null ? 'no limit' : `at most ${limit.highPa} ohm`
  const text = limitsText(limit satisfies LimitPa, unit)
  return text === null ? 'no limit' : `${text} ${unit}`
}

/** Each stroke with its trips, whether it counts and why not. */
export function strokeSection({ analysis, result, words }: ReportInput): Section {
  const { unit, ratedPa } = analysis.setup.rating
  const step = tripStep(ratedPa)
  const units = unitsShown(unit)
  const trip = (pa: number | null) => units.map((as) => numberText(pa, as, step))
  const rows = result.cycles.map((cycle) => [
    String(cycle.stroke),
    ...trip(cycle.makePa),
    oneRate(cycle.makeRatePaPerS),
    ...trip(cycle.breakPa),
    oneRate(cycle.breakRatePaPerS),
    words.cycleWord(cycle),
  ])
  function oneRate(rate: number | null): string {
    return numberText(rate, unit, step)
  }
  const names = (name: string) => [...units.map((as) => `${name}, ${as}`), `Rate, ${unit}/s`]
  return {
    heading: 'Each stroke',
    blocks: [
      rows.length === 0
        ? { kind: 'sentences', sentences: [`No stroke was seen. ${notRecorded}.`] }
        : { kind: 'table', head: ['Stroke', ...names('Make'), ...names('Break'), 'Counts'], rows },
    ],
  }
}
