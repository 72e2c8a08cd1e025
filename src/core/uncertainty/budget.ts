// The fit of a session into estimates with a full uncertainty budget, in the manner of JCGM 100:2008 (GUM).
import { criteria } from '../criteria.table.ts'
import type { BudgetLine, Estimate } from '../model/result.ts'
import type { RigSpec } from '../model/rig.ts'
import type { Zero } from '../signal/zero.ts'
import { studentQuantile } from '../statistics/student.ts'
import { effectiveDof } from '../statistics/welch-satterthwaite.ts'
import type { QuantityFit, SessionFit } from '../trips/fit.ts'
import type { Typing } from '../typed/typed-session.ts'
import { type Allowance, type Allowances, proved } from './allowance.ts'
import { manometerDifferenceLines, manometerLines } from './manometer.ts'
import { zeroHalfWidth } from './zero-half-width.ts'

export type Measurand = BudgetLine['quantity']

export type Measured = {
  estimate: Estimate
  budget: BudgetLine[]
  /** Manometer and zero part of u, Pa, and what is open of the lag, s: what widens a single trip's interval. */
  instrumentU: number
  lagUs: number
  /** What hose and leak may hide, beside U. */
  allowance: Allowance
}

const nothing: Estimate = {
  valuePa: null,
  uPa: null,
  UPa: null,
  k: null,
  dof: null,
  n: 0,
  scatterPa: null,
  allowLowPa: null,
  allowHighPa: null,
}

const unmeasured: Measured = {
  estimate: nothing,
  budget: [],
  instrumentU: 0,
  lagUs: 0,
  allowance: proved.make,
}

const rectangular = (quantity: Measurand, component: string, halfWidthPa: number, sensitivity = 1): BudgetLine => ({
  quantity,
  component,
  value: halfWidthPa,
  unit: 'Pa',
  distribution: 'rectangular',
  divisor: Math.sqrt(3),
  sensitivity,
  uPa: (halfWidthPa / Math.sqrt(3)) * sensitivity,
  dof: null,
})

/** Two digits that were typed, of trip and zero or of both trips: those of a steady switch are rounded alike in every stroke. */
const typedDigit = (quantity: Measurand, { digitPa }: Typing): BudgetLine =>
  rectangular(quantity, 'digit', digitPa / 2, Math.SQRT2)

/** The pace times the reaction of whoever reads: late in every stroke, high on the way up and low on the way down. */
function reactionLines(quantity: Measurand, typing: Typing | null, trips: 1 | 2): BudgetLine[] {
  if (typing === null) return []
  return [{ ...rectangular(quantity, 'reaction', typing.reactionS, trips * typing.pacePaPerS), unit: 's' }]
}

function scatterLine(quantity: Measurand, uPa: number, dof: number): BudgetLine {
  return {
    quantity,
    component: 'scatter',
    value: uPa,
    unit: 'Pa',
    distribution: 't',
    divisor: 1,
    sensitivity: 1,
    uPa,
    dof,
  }
}

/** The lag's share: the rate times what is open of it, and never less than the fit itself leaves open. */
function lagLine(
  quantity: Measurand,
  { lagUs, dof }: { lagUs: number; dof: number | null },
  ratePaPerS: number,
  fitU: number,
): BudgetLine {
  const uPa = Math.max(fitU, ratePaPerS * lagUs)
  const sensitivity = lagUs > 0 ? uPa / lagUs : 0
  return {
    quantity,
    component: 'lag',
    value: lagUs,
    unit: 's',
    distribution: 'normal',
    divisor: 1,
    sensitivity,
    uPa,
    dof,
  }
}

/** From here on k is that of the normal distribution to five figures. */
const unlimitedDof = 1e5

function estimateOf(
  valuePa: number,
  n: number,
  scatterPa: number | null,
  budget: readonly BudgetLine[],
  { lowPa, highPa }: Allowance,
): Estimate {
  const allowed = { allowLowPa: lowPa, allowHighPa: highPa }
  // One single trip says nothing of the scatter: its U is not known.
  if (n <= 1) return { ...nothing, valuePa, n, scatterPa, ...allowed }
  const uPa = Math.hypot(...budget.map((line) => line.uPa))
  const effective = effectiveDof(budget.map((line) => ({ u: line.uPa, dof: line.dof })))
  const dof = effective !== null && effective < unlimitedDof ? effective : null
  const k = studentQuantile(criteria.coverageQuantile, dof ?? Number.POSITIVE_INFINITY)
  return { valuePa, uPa, UPa: k * uPa, k, dof, n, scatterPa, ...allowed }
}

type Input = {
  fit: Pick<SessionFit, 'lag' | 'make' | 'break' | 'differentialLagU'> | null
  zero: Zero
  rig: RigSpec
  /** How finely a moving pressure is read: a digit, or better where the crossings of a coarse one are used. */
  resolutionPa: number
  ratePaPerS: Record<'make' | 'break', number>
  /** Where the lag comes from the scatter of the trips: how well that is known; null where kicks, or the rig's record, tell it. */
  lagDof: number | null
  scatterPa: Record<Measurand, number | null>
  allowances: Allowances
  /** How the pressures were typed; null where the manometer sends them. */
  typing: Typing | null
}

/** Make, break and differential of a session with their budgets; all null without a used edge. */
export function measure(input: Input): Record<Measurand, Measured> {
  return {
    make: measurePoint('make', input),
    break: measurePoint('break', input),
    differential: measureDifference(input),
  }
}

function measurePoint(
  quantity: 'make' | 'break',
  { fit, zero, rig, ratePaPerS, lagDof, scatterPa, allowances, typing }: Input,
): Measured {
  const point = fit?.[quantity]
  if (!fit || !point) return { ...unmeasured }
  const manometer = manometerLines(quantity, rig, point.valuePa)
  const zeroLine = rectangular(quantity, 'zero', zeroHalfWidth(zero, rig))
  const budget = [
    ...manometer,
    zeroLine,
    // The zero was rounded too, and by the same amount for every trip: nothing of it averages out.
    typing === null ? rectangular(quantity, 'digit', rig.digitPa / 2) : typedDigit(quantity, typing),
    ...reactionLines(quantity, typing, 1),
    scatterLine(quantity, point.scatterU, point.scatterDof),
    lagLine(quantity, { lagUs: fit.lag.uS, dof: lagDof }, ratePaPerS[quantity], point.lagU),
  ]
  const estimate = estimateOf(point.valuePa, point.n, scatterPa[quantity], budget, allowances[quantity])
  const instrumentU = Math.hypot(...manometer.map((line) => line.uPa), zeroLine.uPa)
  return { estimate, budget, instrumentU, lagUs: fit.lag.uS, allowance: allowances[quantity] }
}

/** In the difference the zero cancels; what the manometer leaves, two digits and twice the lag stay. */
function measureDifference({ fit, rig, resolutionPa, lagDof, scatterPa, allowances, typing }: Input): Measured {
  const [make, back] = [fit?.make, fit?.break]
  if (!fit || !make || !back) return { ...unmeasured }
  const valuePa = make.valuePa - back.valuePa
  const manometer = manometerDifferenceLines(rig, make.valuePa, back.valuePa)
  // Each trip meets the digits elsewhere on its ramp: the errors of 2 × n trips are independent.
  const digit =
    typing === null
      ? rectangular('differential', 'digit', resolutionPa / 2, Math.sqrt(2 / Math.min(make.n, back.n)))
      : typedDigit('differential', typing)
  // Where kicks date the trips most of the lag cancels; where rates alone do, the fit itself carries (rM + rB)·u(L).
  const lag = lagLine('differential', { lagUs: fit.lag.uS, dof: lagDof }, 0, fit.differentialLagU)
  const budget = [...manometer, digit, ...reactionLines('differential', typing, 2), jointScatter(make, back), lag]
  const n = Math.min(make.n, back.n)
  return {
    estimate: estimateOf(valuePa, n, scatterPa.differential, budget, allowances.differential),
    budget,
    instrumentU: Math.hypot(...manometer.map((line) => line.uPa)),
    lagUs: fit.lag.uS,
    allowance: allowances.differential,
  }
}

function jointScatter(make: QuantityFit, back: QuantityFit): BudgetLine {
  const parts = [make, back].map((p) => ({ u: p.scatterU, dof: p.scatterDof }))
  return scatterLine('differential', Math.hypot(make.scatterU, back.scatterU), effectiveDof(parts) ?? 1e6)
}
