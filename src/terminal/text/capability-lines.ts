// What a part and a rig let a test decide into plain lines: in full for the command, in two at most for the start of a test.

import { criteria } from '../../core/criteria.table.ts'
import type { Chances } from '../../core/decision/chances.ts'
import { type Part, ratingOf } from '../../core/model/part.ts'
import type { PressureUnit } from '../../core/model/units.ts'
import type { Capability, QuantityCapability } from '../../core/plan/capability.ts'
import type { TestPlan } from '../../core/plan/expected-test.ts'
import { rampRatePaPerS } from '../../core/plan/ramp-rate.ts'
import type { SecondCapability } from '../../core/plan/second-capability.ts'
import { givenText } from '../../core/text/figures-text.ts'
import { allowanceText, limitsText, pressureText, readingStep } from '../../core/text/pressure-text.ts'
import type { Allowances } from '../../core/uncertainty/allowance.ts'
import { padText } from './text.ts'

/** What was assumed and not stated, said with the numbers that rest on it. */
export type Assumed = { scatter: boolean; pressure: boolean; contact: boolean }

/** All that is known before the test: the answer first, then each quantity, then cycles and manometer. */
export function capabilityLines(told: Capability, part: Part, plan: TestPlan, assumed: Assumed): string[] {
  return [
    `It ${answers[told.decides]}.`,
    ...reasonLines(told, part),
    '',
    ...told.quantities.flatMap((q) => quantityLines(q, part, told.decides !== 'no')),
    '',
    ...cycleLines(told),
    ...withoutLines(told, part),
    ...secondLines(told, part),
    assumptionLine(part, plan, assumed),
  ]
}

/** The same in one line where the rig can decide the part, in two where it seldom or never can, or its second manometer proves nothing. */
export function capabilityBrief(told: Capability, part: Part): string[] {
  const worst = told.quantities.find((q) => q.quantity === told.worst)
  const numbers = worst ? ` ${ofQuantity(worst, part, told.decides !== 'no')}.` : ''
  if (told.decides === 'yes')
    return [
      `Before the test: this rig can decide the part.${numbers}`,
      ...(told.second?.why ? secondLines(told, part) : []),
    ]
  const head = told.decides === 'no' ? 'NO RESULT COULD PASS on this rig' : 'this rig will seldom decide the part'
  return [`Before the test: ${head}.${numbers}`, ...reasonLines(told, part).slice(0, 1)]
}

const answers: Record<Capability['decides'], string> = {
  yes: 'can decide: a good part in the middle of its limits passes at least 19 times in 20',
  seldom: 'will seldom decide: results could pass, but a good part in the middle is too often left undecided',
  no: 'cannot decide: no result could pass',
}

function reasonLines(told: Capability, part: Part): string[] {
  switch (told.why) {
    case 'no-limits':
      return ['The part file states no limits: make, break and differential are measured, nothing is assessed.']
    case 'no-accuracy':
      return ['The rig file states neither accuracy nor calibration of the manometer: nothing can be assessed.']
    case 'overdue':
      return ["The manometer's certificate is overdue: measuring goes on, nothing is assessed."]
    case 'meter-overdue':
      return ["The meter's certificate is overdue and the part has a limit in ohm: nothing is assessed."]
    case 'no-ohms': {
      const maxOhm = part.contact?.maxOhm ?? null
      const needs = maxOhm === null ? 'the network is known by its ohms' : `the part has a limit of ${maxOhm} ohm`
      return [
        `This meter tells open and closed alone, and ${needs}: that stays undecided. A meter that sends ohms would decide it; \`makebreak driver list ID\` says what each driver reads.`,
      ]
    }
    case 'outside-certificate':
      return ["The trips will lie outside the points of the manometer's certificate: have it calibrated there too."]
    case 'outside-scale':
      return [
        'The trips will lie beyond the full scale of the manometer, up to which its accuracy is stated: use one with a wider range.',
      ]
    case 'two-point-certificate':
      return [
        'Nothing bounds the manometer between the only two points of its certificate: state its accuracy in the rig file, or have it calibrated at a point between.',
      ]
    case 'too-few-cycles':
      return [`${told.cycles.planned} cycles are planned; at least ${criteria.fewestCycles} have to count.`]
    default:
      return told.decides === 'yes' ? [] : [remedy(told, part)]
  }
}

function remedy({ manometer, cycles, worst }: Capability, part: Part): string {
  const { unit } = ratingOf(part)
  if (cycles.needed !== null && cycles.needed > cycles.planned)
    return `${cycles.needed} cycles would decide it; ${cycles.planned} are planned.`
  if (manometer === null)
    return 'No manometer alone would decide it: the limits are too near to each other for the scatter, the ramp and the lag. Ramp more slowly, or have the lag of the rig measured (makebreak rig lag).'
  const { accuracyPa, digitPa } = manometer
  return `Accurate enough for this part: a manometer that is right to ±${pressureText(accuracyPa, unit, 'at most')} at the ${worst ?? 'trip'}, by its data sheet or its certificate, with a last digit of ${pressureText(digitPa, unit, 'at most')} or finer.`
}

/** Where no result could pass (`passes` false) no zone in which one would is told. */
function quantityLines(q: QuantityCapability, part: Part, passes: boolean): string[] {
  const { unit } = ratingOf(part)
  const name = padText(q.quantity, 13)
  const indent = padText('', 13)
  if (q.limit === null) return [`${name}${expanded(q, unit)}; no limit: measured, not assessed`]
  const limits = `limits ${limitsText(q.limit, unit)} ${unit}`
  const lines = [`${name}${expanded(q, unit)}${ratio(q)}; ${limits}`]
  if (!passes) return lines
  lines.push(`${indent}${accepted(q, unit)}`)
  if (q.centred) lines.push(`${indent}a good part${q.anywhere ? ' in the middle' : ''}: ${chances(q.centred)}`)
  if (q.anywhere) lines.push(`${indent}a part anywhere within its limits: ${chances(q.anywhere)}`)
  return lines
}

function ofQuantity(q: QuantityCapability, part: Part, passes: boolean): string {
  const { unit } = ratingOf(part)
  const name = `${q.quantity[0]!.toUpperCase()}${q.quantity.slice(1)}`
  const undecided = q.centred ? `; ${share(q.centred.undecided)} of good parts would be undecided` : ''
  return `${name}: ${expanded(q, unit)}${ratio(q)}${passes ? `, ${accepted(q, unit)}${undecided}` : ''}`
}

const expanded = (q: QuantityCapability, unit: PressureUnit) => `U ${pressureText(q.UPa, unit, 'as U')}`
/** T/U: half the width of the limits over the expanded uncertainty. */
const ratio = (q: QuantityCapability) => (q.ratio === null ? '' : `, T/U ${q.ratio.toFixed(q.ratio < 1 ? 2 : 1)}`)

function accepted(q: QuantityCapability, unit: PressureUnit): string {
  if (q.accept === null) return 'no result passes: the guard bands take up all that is between the limits'
  return `passes ${limitsText(q.accept, unit, q.UPa)} ${unit}`
}

const chances = ({ pass, undecided, fail }: Chances) =>
  `${share(pass)} pass, ${share(undecided)} end undecided, ${share(fail)} fail`

/** A chance as `4 %`; never 0 % or 100 % where it is not quite that. */
function share(chance: number): string {
  const percent = 100 * chance
  if (percent > 0 && percent < 1) return percent < 1e-9 ? '0 %' : 'under 1 %'
  if (percent < 100 && percent > 99) return 'over 99 %'
  return `${Math.round(percent)} %`
}

function cycleLines({ cycles, decides }: Capability): string[] {
  const needed =
    cycles.needed === null
      ? 'Cycles: more of them would not be enough.'
      : `Cycles: ${cycles.planned} planned, ${cycles.needed} needed.`
  if (cycles.needed === null && decides !== 'no') return ['Cycles: not even 50 are enough.']
  const enough =
    cycles.enough === null ? 'Even hundreds narrow U.' : `From ${cycles.enough} on, more narrow U by less than 5 %.`
  return [`${needed} ${enough}`]
}

/** What leaving out a step costs: how far beyond U the truth may lie then. */
function withoutLines({ without, quantities }: Capability, part: Part): string[] {
  const { unit, ratedPa } = ratingOf(part)
  const beyond = (allowed: Allowances) =>
    quantities
      .flatMap(({ quantity, UPa }) => {
        const { lowPa, highPa } = allowed[quantity]
        const of = { UPa: Number.isFinite(UPa) ? UPa : null, allowLowPa: lowPa, allowHighPa: highPa }
        const text = allowanceText(of, unit, readingStep(ratedPa))
        return text === null ? [] : [`${quantity} up to ${text}`]
      })
      .join('; ')
  const line = (what: string, text: string) => (text === '' ? [] : [`Without ${what}: ${text}.`])
  return [
    ...line('the faster strokes a lag is not ruled out', beyond(without.faster)),
    ...line('the hold a leak is not ruled out', beyond(without.hold)),
  ]
}

const secondFails: Record<NonNullable<SecondCapability['why']>, string> = {
  overdue: 'its certificate is overdue',
  'outside-scale': 'the trips will lie beyond its full scale',
  'outside-certificate': 'the trips will lie outside the points of its certificate',
}

/** What the manometer at the switch end adds: it stands in for the faster strokes and the hold. */
function secondLines({ second }: Capability, part: Part): string[] {
  if (second === null) return []
  if (second.why !== null) return [`The second manometer proves nothing of the line: ${secondFails[second.why]}.`]
  const leaves = pressureText(second.leavesPa, ratingOf(part).unit, { figures: 2 })
  return [
    `With the second manometer at the switch, shown by a pinched hose, hose and leak leave open ${leaves} or a little more, also without the faster strokes and the hold.`,
  ]
}

function assumptionLine(part: Part, plan: TestPlan, assumed: Assumed): string {
  const rating = ratingOf(part)
  const rate = pressureText(rampRatePaPerS(rating, plan.contactIntervalS), rating.unit, { figures: 2 }, '/s')
  const scatter = `scatter (s) ${pressureText(plan.scatterPa, rating.unit, { figures: 2 })}${assumed.scatter ? ' (assumed: usual for a good switch)' : ''}`
  const every = (s: number) => `${givenText(s, 2)} s`
  const intervals = `readings every ${every(plan.pressureIntervalS)} and ${every(plan.contactIntervalS)}${assumed.pressure || assumed.contact ? ' (0.5 s assumed where an instrument sends by itself)' : ''}`
  return `Taken: ${scatter}; ${intervals}; a ramp of ${rate}.`
}
