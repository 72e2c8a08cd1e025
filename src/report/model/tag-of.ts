// A judged recording into what its tag says; only a whole pass of a real part may look like one.

import type { LimitResult, Result } from '../../core/model/result.ts'
import { readingStep, uncertainNumbers } from '../../core/text/pressure-text.ts'
import { type CodeStanding, codeStandings, tagCodeText } from '../../core/text/tag-code.ts'
import { timeText } from './head-sections.ts'
import { outsideText } from './outside-text.ts'
import { rejectWords } from './reject-words.table.ts'
import type { ReportInput } from './report-input.ts'
import { decidesLimits, stampOf } from './standing.ts'
import type { Tag } from './tag.ts'

const doNotFit = 'DO NOT FIT'
/** The words of a report, where five do not say it. */
const seeReport = 'see the test report'

export function tagOf(input: ReportInput): Tag {
  const { result, analysis, number, words, sha256 } = input
  const { start, rating } = analysis.setup
  const { part, simulated } = start
  const standing = standingOf(input)
  const value = (name: 'make' | 'break') =>
    `${words.limitNames[name]} ${uncertainNumbers(result[name], rating.unit, readingStep(rating.ratedPa))}`
  const model = outsideText(part.model) ?? part.kind
  const serial = outsideText(part.serial)
  const word = standing ?? words.verdictWords.pass.word
  const proves = standing === null || simulated || decidesLimits(result)
  return {
    word,
    warns: standing !== null,
    beside: standing === null ? outsideText(input.shop.name) : doNotFit,
    date: timeText(start.at)?.slice(0, 10) ?? 'no date',
    reason: standing === null ? null : whyNot(input),
    model,
    serial: serial === null ? 'no serial number' : `serial ${serial}`,
    values: proves ? [value('make'), value('break')] : [],
    unit: proves ? `± U 95 %, ${rating.unit}` : null,
    last: simulated ? 'SIMULATED' : number === null ? 'no number' : (outsideText(number) ?? 'no number'),
    again: simulated,
    code: tagCodeText({ standing, number, serial: part.serial ?? null, sha256 }),
    title: ['Tag', word, model, serial].filter((piece) => piece !== null).join(', '),
    at: start.at,
  }
}

/** What is not simulated and fails is rejected whatever is wrong with its recording; else what the report is stamped with. */
function standingOf(input: ReportInput): CodeStanding | null {
  const stamp = stampOf(input)
  if (stamp !== 'SIMULATED' && input.result.verdict === 'fail') return 'REJECT'
  if (stamp === null) return null
  const standing = codeStandings.find((each) => stamp.startsWith(each))
  if (standing === undefined) throw new Error(`tag: no standing for the stamp ${stamp}`)
  return standing
}

/** In at most five words. */
function whyNot({ result, analysis, words }: ReportInput): string {
  if (analysis.setup.start.simulated) return 'no real part was tested'
  if (result.verdict === 'fail') return failWords(result, words.limitNames)
  if (result.beside !== null) return 'it failed beside that'
  if (result.verdict === 'undecided' && decidesLimits(result)) {
    const near = result.limits.find(({ outcome }) => outcome === 'undecided')
    if (near && measuredIn(near, result) !== null) return `${words.limitNames[near.name]} near its limit`
  }
  return seeReport
}

function failWords(result: Result, names: ReportInput['words']['limitNames']): string {
  for (const { code, effect } of result.findings) {
    const told = effect === 'fail' ? (rejectWords as Record<string, string | null | undefined>)[code] : null
    if (told) return told
  }
  const missed = result.limits.find(({ outcome }) => outcome === 'fail')
  if (missed === undefined) return seeReport
  const value = measuredIn(missed, result)
  const name = names[missed.name]
  if (value === null) return `${name} not measured`
  if (missed.lowPa !== null && value < missed.lowPa) return `${name} below its limit`
  if (missed.highPa !== null && value > missed.highPa) return `${name} above its limit`
  // Its mean is inside, a single trip is not.
  return `${name} beyond its limit`
}

/** What a limit is held against: Pa, ohm of the contact. */
function measuredIn({ name }: LimitResult, result: Result): number | null {
  if (name === 'contact') return result.contact.medianOhm
  if (name === 'first-make') return result.firstStroke.makePa
  if (name === 'first-break') return result.firstStroke.breakPa
  return result[name].valuePa
}
