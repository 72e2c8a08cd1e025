// A result into the sections that hold its numbers: each in the unit of the rating first, then in Pa, with its limits and outcome.
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
} from '../../core/text/pressure-text.ts'
import { scatterName } from '../../core/text/scatter-name.ts'
import { type Fact, notRecorded, type Section } from './report.ts'
import { type ReportInput, unitsOf } from './report-input.ts'
import { decidesLimits } from './standing.ts'

const quantities = ['make', 'break', 'differential'] as const

/** Each result with its limits, what it comes to, and the chance that it conforms, and the risk that it does not. */
export function resultsSection(input: ReportInput): Section {
  const { analysis, result, words } = input
  const { unit, ratedPa, limits } = analysis.setup.rating
  const units = unitsOf(input)
  const step = readingStep(ratedPa)
  const outcomes = outcomesOf(input)
  const rows = quantities.map((name) => [
    words.limitNames[name],
    ...units.map((as) => uncertainNumbers(result[name], as, step)),
    result[name].k === null ? noNumber : result[name].k.toFixed(2),
    String(result[name].n),
    limitsText(limits[name], unit) ?? 'no limit',
    outcomes(name, result[name].valuePa !== null),
    ...chances(result, name),
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
      ...chances(result, `first-${name}`),
    ]
  })
  const values = units.map((as) => `Value ± U, ${as}`)
  const head = ['Result', ...values, 'k', 'n', `Limits, ${unit}`, 'Outcome', 'Conforms', 'Risk']
  return { heading: 'Results', lead: true, blocks: [{ kind: 'table', head, rows: [...rows, ...firsts] }] }
}

/** What belongs to the results and has no limit of pressure: what U leaves out, scatter, contact, strokes; and the rule. */
export function besideSections(input: ReportInput): Section[] {
  const facts = [...contactFacts(input), actedFact(input.result), ...notRuledOut(input), ...scatters(input)]
  return [
    { heading: 'Beside the results', blocks: [{ kind: 'facts', facts }] },
    { heading: 'Rule', blocks: [{ kind: 'sentences', sentences: [rule(input)] }] },
  ]
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

function notRuledOut(input: ReportInput) {
  const { analysis, result, words } = input
  const { ratedPa } = analysis.setup.rating
  const told = quantities.flatMap((name) => {
    const text = allowanceText(result[name], unitsOf(input), readingStep(ratedPa))
    return text === null ? [] : [`${words.limitNames[name]} up to ${text}`]
  })
  const value = told.length > 0 ? told.join('; ') : 'nothing that shows at the digits of U'
  return [{ label: 'Lag or leak not ruled out, beside U', value }]
}

function scatters(input: ReportInput): Fact[] {
  const { result, words } = input
  return quantities.flatMap((name) => {
    const { scatterPa, n } = result[name]
    if (scatterPa === null) return []
    const value = `${pressureText(scatterPa, unitsOf(input), { figures: 2 })}, ${n} cycles`
    return [{ label: `${capital(scatterName(n))} of ${words.limitNames[name]}`, value }]
  })
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

function contactFacts(input: ReportInput) {
  const { analysis, result } = input
  const { maxOhm } = analysis.setup.rating
  const { medianOhm, maxOhm: worst, uOhm, poorShare } = result.contact
  const ohms = (ohm: number) => ohm.toFixed(2)
  const outcome = outcomesOf(input)('contact', medianOhm !== null)
  const [conforms, risk] = chances(result, 'contact')
  const chance = conforms === notStated ? '' : `, conforms ${conforms}, risk ${risk}`
  const u = uOhm === null ? 'u not known' : `u ${ohms(uOhm)}`
  const value =
    medianOhm === null
      ? `not measured; limit ${maxOhm === null ? 'none' : `at most ${maxOhm} ohm`}; ${outcome}`
      : `${ohms(medianOhm)} ohm median, ${worst === null ? noNumber : ohms(worst)} ohm most, ${u} ohm, leads off; ${maxOhm === null ? 'no limit' : `limit at most ${maxOhm} ohm`}; ${outcome}${chance}`
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

const notStated = 'not stated'

const share = (p: number) => (p > 0.9995 ? '> 99.9 %' : p < 0.0005 ? '< 0.1 %' : `${figuresText(100 * p, 3)} %`)

/** The chance that what is limited conforms, and that it does not. */
function chances(result: Result, name: LimitResult['name']): [string, string] {
  const limit = result.limits.find((each) => each.name === name)
  const known = decidesLimits(result) ? (limit?.conformance ?? null) : null
  return known === null ? [notStated, notStated] : [share(known), share(1 - known)]
}

function rule({ analysis }: ReportInput): string {
  const { rule, guardFactor, risk } = analysis.setup.rig
  const rules = {
    guarded: `guarded: ${guardFactor} × U is kept off each limit, at least 1 × U on the side where a wrong switch is dangerous`,
    simple: 'simple: nothing is kept off a limit, but 1 × U on the side where a wrong switch is dangerous',
    risk: `risk: a part exactly at a limit passes with a chance of at most ${share(risk)}; at least 1 × U is kept off where a wrong switch is dangerous`,
  } as const
  return `Decision rule, ${rules[rule]}. Each single counted trip and the first stroke must lie within the plain limits.`
}

/** Each stroke with its trips, whether it counts and why not. */
export function strokeSection(input: ReportInput): Section {
  const { analysis, result, words } = input
  const { unit, ratedPa } = analysis.setup.rating
  const step = tripStep(ratedPa)
  const units = unitsOf(input)
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
