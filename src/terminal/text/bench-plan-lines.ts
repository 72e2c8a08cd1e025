// A bench plan into plain lines: the table of ballasts, then needle, ramp, lag, heat and leak with the formula of each, then cautions.

import { type Part, ratingOf } from '../../core/model/part.ts'
import type { PressureUnit } from '../../core/model/units.ts'
import { assumedComplianceM3PerPa, type Ballast, type BenchPlan } from '../../core/plan/bench-plan.ts'
import { figuresText } from '../../core/text/figures-text.ts'
import { numberText, oneUnitText, pressureText } from '../../core/text/pressure-text.ts'
import { padText, textWidth } from './text.ts'

/** What is known of the rig: how often its contact is read, and whether that is assumed; its lag's u, null where none is stated. */
export type KnownRig = { contactIntervalS: number; assumed: boolean; lagUs: number | null }

/** The whole plan; pressures in the part's unit first and Pa second, in Pa alone inside the table. */
export function benchPlanLines(plan: BenchPlan, part: Part, rig: KnownRig): string[] {
  const { unit, ratedPa, ratedOn, halfTolerancePa } = ratingOf(part)
  const stated = (pa: number) => pressureText(pa, unit, { upTo: 3 })
  return [
    `Bench for ${part.model ?? part.kind}: ${ratedOn} at ${stated(ratedPa)}, T ${stated(halfTolerancePa)}`,
    '',
    ...ballastTable(plan.ballasts, unit),
    '',
    ...ballastLines(plan, unit),
    ...rampLines(plan, rig, unit),
    ...needleLines(plan, unit),
    ...heatAndLeakLines(plan, unit),
    '',
    ...cautions,
  ]
}

function ballastTable(ballasts: readonly Ballast[], unit: PressureUnit): string[] {
  const head = [
    ['air', 'Pa per mL', 'mL to rated', 'one stroke', 'strokes', '0.1 mm', 'kick', 'heat', ''],
    ['', 'stop / free', 'stop / free', `at most, ${unit}`, 'to peak', 'jerk, Pa', 'Pa', 's', ''],
  ]
  const rows = ballasts.map((b) => [
    b.litres < 0.1 ? 'bare' : `${b.litres} L`,
    `${figures(b.stiffPaPerMl)} / ${figures(b.softPaPerMl)}`,
    `${figures(b.stiffMl)} / ${figures(b.softMl)}`,
    numberText(b.oneStrokePa, unit, twoFigures),
    String(b.strokes),
    numberText(b.stickSlipPa, 'Pa', twoFigures),
    numberText(b.kickPa, 'Pa', twoFigures),
    figures(b.thermalS),
    b.suits ? 'suits' : '',
  ])
  const all = [...head, ...rows]
  const widths = head[0]!.map((_, i) => Math.max(...all.map((row) => textWidth(row[i]!))))
  return all.map((row) =>
    row
      .map((cell, i) => padText(cell, widths[i]!, i === 0 ? 'left' : 'right'))
      .join('  ')
      .trimEnd(),
  )
}

function ballastLines({ chosen, ballasts }: BenchPlan, unit: PressureUnit): string[] {
  const known = [
    `  stop: diaphragm on its stop, Cd = 0; free: Cd = ${assumedComplianceM3PerPa} m³/Pa, assumed: measure it by a`,
    '  known step of the syringe with the switch connected and not. Syringe 60 mL, bore 26.7 mm.',
    '  dP/dV = 1/(V/P0 + Cd), ideal gas law; kick = D·Cd/(Cd + V/P0); stroke: Boyle.',
  ]
  if (chosen === null) {
    const most = ballasts.at(-1)!
    return [
      `Ballast: none of these steadies a hand; take ${most.litres} L or more and ramp through a needle, not by the plunger.`,
      ...known,
    ]
  }
  return [
    `Ballast: ${chosen.litres} L. A plunger that sticks by 0.1 mm jerks by ${inBoth(chosen.stickSlipPa, unit)}; the kick is ${inBoth(chosen.kickPa, unit)}.`,
    ...known,
  ]
}

function rampLines({ ratePaPerS, lag, peakPa }: BenchPlan, rig: KnownRig, unit: PressureUnit): string[] {
  const { contactIntervalS, assumed, lagUs } = rig
  const known =
    lagUs === null
      ? 'The rig states no lag: have it measured (makebreak rig lag).'
      : lagUs <= lag.allowedUs
        ? `The rig's lag is known to ${seconds(lagUs)}: enough.`
        : `The rig's lag is known to ${seconds(lagUs)}: not enough; ramp more slowly or measure it again.`
  return [
    `Ramp: ${inBoth(ratePaPerS, unit, '/s')} through the trips, up to ${inBoth(peakPa, unit)}; a few cycles at two to four times that rate tell the lag.`,
    `  rate ≤ 0.05·√12·T/interval: sampling each ${seconds(contactIntervalS)}${assumed ? ' (assumed)' : ''} takes at most 5 % of T; and no faster than a hand is steady.`,
    `Lag: 0.1 s that is not known shifts make by ${inBoth(lag.perTenthPa, unit)}, rate × lag. Known to ${seconds(lag.allowedUs)} it costs 5 % of T.`,
    `  ${known}`,
  ]
}

function needleLines({ needle }: BenchPlan, unit: PressureUnit): string[] {
  const { boreMm, pieceMm, pieces, timeConstantS, downPaPerS, reynolds, sourceFactor } = needle
  const laminar = reynolds > 2000 ? 'NOT laminar: take a longer and wider needle' : 'laminar'
  const size = `bore ${figures(boreMm)} mm, ${pieceMm.toFixed(1)} mm long`
  return [
    `Needle vent: ${pieces === 1 ? `one needle, ${size}` : `${pieces} needles one behind the other, each ${size}`}: time constant ${figures(timeConstantS)} s. It ramps without a hand:`,
    `  the rated point falls at ${inBoth(downPaPerS, unit, '/s')}, and rises at the rate of the ramp from a source bottle held at ${figures(sourceFactor)} × the rated point.`,
    `  R = 128·μ·L/(π·d⁴), Hagen–Poiseuille (Reynolds number ${figures(reynolds)}, ${laminar}); τ = R·(V/P0 + Cd); down P/τ, up (k − 1)·P/τ.`,
  ]
}

function heatAndLeakLines({ chosen, ballasts, heat, leak }: BenchPlan, unit: PressureUnit): string[] {
  const { thermalS } = chosen ?? ballasts.at(-1)!
  return [
    `Heat: after a quick move the pressure creeps back by up to 29 % (1 − 1/γ) with a time constant of ${figures(thermalS)} s; wait, or fill`,
    '  the bottle with wire wool. τ = a²/(5.78·α), long cylinder. Such a creep stops; a leak goes on to zero.',
    `  Closed, it follows the room by ${oneUnitText(heat.sealedPaPerK, 'Pa', undefined, '/K')} (P0/T): ${figures(heat.allowedK * 1000)} mK during a ramp cost 5 % of T. No hands, sun or draught on it.`,
    `Leak: at most ${inBoth(leak.allowedPaPerS * 60, unit)} a minute at the rated point, ${figures(leak.allowedMlPerMin)} mL of air a minute. Q = V·dP/dt; shop rule, 2 % a minute.`,
  ]
}

const cautions = [
  'Cautions',
  '  Never draw or blow by mouth; never use compressed air. Take the switch out of the appliance, mains off first.',
  '  The ballast limits the vacuum of a stroke: bare hoses let a hand overload the diaphragm. Use a rigid bottle.',
  "  Local codes, the appliance's instructions and licensed practice come first.",
]

/** What is worked out here rests on a compliance and a plunger that are assumed: two figures are all that is known. */
const twoFigures = { figures: 2 }
const figures = (value: number) => figuresText(value, 2)

const seconds = (s: number) => `${figures(s)} s`

const inBoth = (pressurePa: number, unit: PressureUnit, per?: string) => pressureText(pressurePa, unit, twoFigures, per)
