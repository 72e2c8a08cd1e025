// A result into the one sentence that says why its verdict is what it is.

import { criteria } from '../../core/criteria.table.ts'
import type { Settling } from '../../core/decision/settling.ts'
import type { Blocked } from '../../core/decision/verdict.ts'
import type { EndReason } from '../../core/model/event.ts'
import { type Part, ratingOf } from '../../core/model/part.ts'
import type { Estimate, FindingEffect, LimitResult, Result, WhyNot } from '../../core/model/result.ts'
import type { PortName } from '../../core/model/rig.ts'
import type { PressureUnit } from '../../core/model/units.ts'
import { linesText } from '../../core/text/lines-text.ts'
import { portText } from '../../core/text/port-text.ts'
import {
  allowanceText,
  limitsText,
  limitText,
  noNumber,
  pressureText,
  readingStep,
  uncertainText,
} from '../../core/text/pressure-text.ts'
import type { Live } from '../../core/view/live.ts'
import { cleanText } from './text.ts'
import { limitNames, stepWords } from './words.ts'

/** What is known of a run beside its result; what is left out is not known, and the run is taken to have ended. */
export type Grounds = Partial<
  Pick<Live, 'settlings' | 'leftOut' | 'lost' | 'end' | 'blocked' | 'astray' | 'phase' | 'signature'>
>

const noSeal = 'The recording has no seal at its end.'

const endSentences: Record<EndReason, string> = {
  finished: '',
  abandoned: 'The test was abandoned.',
  'link-lost': 'The test ended when an instrument was lost.',
  'over-pressure': 'The test was ended because of the over-pressure.',
}

/**
 * Why the verdict of `result` is what it is: first what became of its recording and that the test was given up, where that
 * is so; then the most telling cause, at most two, and what would settle it; last what was left out of the test. Never empty.
 */
export function reasonOf(
  result: Result,
  part: Part,
  { settlings = [], leftOut = [], lost = [], end = null, blocked = null, astray = null }: Grounds = {},
): string {
  const why = whyOf(result, part, { settlings, lost, end, blocked, astray })
  const beside = result.beside === null || why.includes(cleanText(result.beside)) ? [] : [cleanText(result.beside)]
  const skipped = leftOut.map(({ step, reason }) => `${stepWords[step]} (${cleanText(reason)})`)
  return [
    why,
    ...beside.map((text) => `And it failed: ${text} Do not fit it.`),
    ...(skipped.length > 0 ? [`Left out: ${skipped.join(', ')}.`] : []),
  ].join(' ')
}

function whyOf(
  result: Result,
  part: Part,
  {
    settlings,
    lost,
    end,
    blocked,
    astray,
  }: Required<Pick<Grounds, 'settlings' | 'lost' | 'end' | 'blocked' | 'astray'>>,
): string {
  const given = endSentences[end ?? 'finished']
  const all = [...(blocked ? [blockedText(blocked)] : []), ...causesOf(result, part, settlings)]
  // A seal that is missing at the path is no cause of its own where the whole file is.
  const causes = all.filter((text) => astray === null || text !== noSeal).slice(0, 2)
  // A pass needs no excuse, and a fail is none of the cable's.
  const gone = result.verdict === 'undecided' ? lostText(lost) : ''
  const told = [cleanText(astray?.message ?? ''), given, gone, ...causes].filter((text) => text !== '')
  if (told.length > 0) return told.join(' ')
  const { acted } = result
  if (result.verdict === 'pass')
    return `Within all limits, with margin, over ${result.make.n} counted cycles; it acted in ${Math.min(acted.made, acted.released)} of ${acted.strokes} strokes.`
  if (result.verdict === 'not-assessed') return 'Measured only: there was nothing to judge by.'
  if (result.verdict === 'undecided') return 'The test did not run to its end.'
  return 'The findings say why.'
}

const lostText = (lost: readonly PortName[]) =>
  lost.length === 0
    ? ''
    : `The ${lost.map(portText).join(' and the ')} ${lost.length > 1 ? 'were lost during the test: see to the cables' : 'was lost during the test: see to the cable'}.`

function blockedText(blocked: Blocked): string {
  switch (blocked.why) {
    case 'purpose':
      return 'Measured only: this purpose decides nothing.'
    case 'no-limits':
      return 'Measured only: no limit of the part is stated.'
    case 'no-unsafe-limit':
      return 'Measured only: the part states no limit on the side where its rated point is dangerous.'
    case 'no-accuracy':
      return 'Measured only: neither accuracy nor certificate of the manometer is stated.'
    case 'overdue':
      return `Measured only: the manometer's certificate was valid until ${blocked.due}, and the test is later.`
    case 'meter-overdue':
      return `Measured only: the meter's certificate was valid until ${blocked.due}, and the part has a limit in ohm.`
  }
}

function causesOf(result: Result, part: Part, settlings: readonly Settling[]): string[] {
  const { damage } = result
  const found = (effect: FindingEffect) =>
    result.findings.filter((f) => f.effect === effect).map((f) => cleanText(f.text))
  const limits = (outcome: LimitResult['outcome']) =>
    result.limits.filter((l) => l.outcome === outcome).map((l) => limitSentence(l, result, part))
  switch (result.verdict) {
    case 'pass':
      return []
    case 'not-assessed':
      return found('note').slice(0, 1)
    case 'void':
      return [
        ...(damage.corruptLines.length > 0 ? [`The recording is damaged at ${linesText(damage.corruptLines)}.`] : []),
        ...(damage.seal === 'broken' ? ['The seal does not match the recording.'] : []),
        ...found('void'),
      ]
    case 'fail':
      return [...limits('fail'), ...found('fail')]
    case 'undecided':
      return [
        ...(result.make.n < criteria.fewestCycles
          ? [`Cycles that count: ${result.make.n}; at least ${criteria.fewestCycles} are needed.${spoiltText(result)}`]
          : result.limits
              .filter((l) => l.outcome === 'undecided')
              .map((l) => [limitSentence(l, result, part), settlingText(l, result, part, settlings)].join(''))),
        ...found('undecided').filter((text) => text !== notProvedText(result)),
        ...(damage.torn ? ['The recording breaks off in the middle of a line.'] : []),
        ...(damage.seal === 'missing' ? [noSeal] : []),
      ]
  }
}

const spoilt: Partial<Record<WhyNot, { what: string; advice: string }>> = {
  reversal: {
    what: 'turned back near the trip',
    advice: 'Draw on without turning back; more ballast steadies the hand.',
  },
  'too-fast': { what: 'too fast for these instruments', advice: 'Draw more slowly through the trips.' },
  gap: { what: 'with a gap in the readings', advice: 'See to the cables.' },
  frozen: { what: 'with a reading that stood still', advice: 'Release the hold key of the display.' },
  'unit-changed': { what: 'after the unit was changed', advice: 'Set the unit back and leave it.' },
  'no-make': { what: 'without a make', advice: 'Draw higher, past the make.' },
  'no-break': { what: 'without a break', advice: 'Let down through the break, to the room.' },
}

/** Why cycles do not count, with a space before it, the most frequent first and what to do about that one; empty where all do. */
function spoiltText({ cycles }: Result): string {
  const counts = (Object.keys(spoilt) as (keyof typeof spoilt)[])
    .map((why) => ({ ...spoilt[why]!, count: cycles.filter((c) => c.why === why).length }))
    .filter(({ count }) => count > 0)
    .sort((a, b) => b.count - a.count)
  const [most] = counts
  return most ? ` Void: ${counts.map(({ count, what }) => `${count} ${what}`).join(', ')}. ${most.advice}` : ''
}

function limitSentence(limit: LimitResult, result: Result, part: Part): string {
  const { unit, ratedPa } = ratingOf(part)
  const name = limitNames[limit.name]
  if (limit.name === 'contact') {
    const { medianOhm, maxOhm } = result.contact
    const most = `the limit is ${limit.highPa ?? noNumber} ohm`
    if (medianOhm === null) return `The contact resistance was not measured; ${most}.`
    const value = `The contact resistance is ${medianOhm.toFixed(2)} ohm`
    const isTold = result.findings.some((f) => f.code === 'high-contact-resistance' && f.effect === 'undecided')
    if (limit.outcome === 'undecided' && isTold)
      return `${value}, its highest reading ${maxOhm?.toFixed(2)} ohm; ${most}.`
    if (limit.outcome === 'undecided')
      return `${value}, its highest reading ${maxOhm?.toFixed(2)} ohm: too near the limit of ${limit.highPa} ohm to decide.`
    const single = medianOhm <= (limit.highPa ?? 0) ? ', but not each of its closures keeps it throughout' : ''
    return `${value}; ${most}${single}.`
  }
  const measured = measuredOf(limit.name, result)
  const { valuePa, UPa } = measured
  if (valuePa === null) return `The ${name} was not measured; its limits are ${limitsText(limit, unit)} ${unit}.`
  const step = readingStep(ratedPa)
  const amount = UPa === null ? pressureText(valuePa, unit, step) : uncertainText({ valuePa, UPa }, unit, step)
  const allowed = allowanceText(measured, unit, step)
  const beyond = allowed === null ? '' : `, or up to ${allowed} for a lag or a leak not ruled out`
  return `The ${name} is ${amount}${beyond}: ${placeOf(limit, measured, valuePa, unit)}.`
}

/** The finding that says which proof an allowance waits for; empty where none does. */
function notProvedText({ findings }: Result): string {
  const finding = findings.find(({ code }) => code === 'lag-not-proved' || code === 'line-not-proved')
  return finding ? cleanText(finding.text) : ''
}

/** What would settle an undecided limit, with a space before it; empty where nothing is known of it. */
function settlingText({ name }: LimitResult, result: Result, part: Part, settlings: readonly Settling[]): string {
  const settling = settlings.find((s) => s.quantity === name)
  if (!settling) return ''
  const { quantity, cycles, accuracyPa, largest } = settling
  if (cycles !== null) {
    const more = cycles - result[quantity].n
    return ` ${more} more ${more === 1 ? 'cycle that counts' : 'cycles that count'} would settle it, should it stay there.`
  }
  if (accuracyPa !== null) {
    const amount = pressureText(accuracyPa, ratingOf(part).unit, 'at most')
    return ` More cycles would not settle it; a manometer that is wrong by at most ${amount} would.`
  }
  // Neither cycles nor a manometer take an allowance away: its own finding says what does.
  const proof = notProvedText(result)
  if (proof !== '') return ` ${proof}`
  return ` Neither more cycles nor a better manometer would settle it: most of its uncertainty is ${largest}.`
}

type MeasuredValue = Pick<Estimate, 'valuePa' | 'UPa' | 'allowLowPa' | 'allowHighPa'>

/** A first stroke is held against its limits with what its mean may hide. */
function measuredOf(name: Exclude<LimitResult['name'], 'contact'>, result: Result): MeasuredValue {
  if (name === 'first-make') return { ...result.make, valuePa: result.firstStroke.makePa, UPa: null }
  if (name === 'first-break') return { ...result.break, valuePa: result.firstStroke.breakPa, UPa: null }
  return result[name]
}

function placeOf(limit: LimitResult, measured: MeasuredValue, valuePa: number, unit: PressureUnit): string {
  const { lowPa, highPa } = limit
  // What is undecided may be so for its allowance alone.
  const [beneathPa, abovePa] =
    limit.outcome === 'undecided' ? [measured.allowLowPa ?? 0, measured.allowHighPa ?? 0] : [0, 0]
  const toLow = lowPa === null ? Number.POSITIVE_INFINITY : valuePa - beneathPa - lowPa
  const toHigh = highPa === null ? Number.POSITIVE_INFINITY : highPa - valuePa - abovePa
  const nearLow = toLow <= toHigh
  const edge = limitText((nearLow ? lowPa : highPa) ?? 0, unit)
  const side = nearLow ? 'low' : 'high'
  if (limit.outcome === 'undecided') return `too near the ${side} limit of ${edge} ${unit} to decide`
  if (Math.min(toLow, toHigh) < 0) return `${nearLow ? 'below' : 'above'} the limit of ${edge} ${unit}`
  // A single cycle or stroke can break a limit that the mean keeps.
  return `the mean lies within ${limitsText(limit, unit)} ${unit}, but a single stroke does not`
}
