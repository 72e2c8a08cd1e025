// A rig's statement on its manometer (accuracy, or certificate and drift) into standard uncertainties and budget lines.

import type { BudgetLine } from '../model/result.ts'
import type { RigSpec } from '../model/rig.ts'
import { correctionUncertaintyPa } from './certificate.ts'

type Measurand = BudgetLine['quantity']
type Stated = Pick<RigSpec, 'accuracy' | 'calibration'>

const root3 = Math.sqrt(3)

/** Standard uncertainty of the manometer at `pressurePa`, Pa; 0 where the rig states nothing of it. */
export function manometerUncertaintyPa(rig: Stated, pressurePa: number): number {
  return Math.hypot(...manometerLines('make', rig, pressurePa).map((line) => line.uPa))
}

/** What the manometer adds to the budget of a pressure: `gauge` from its accuracy, or `certificate` and `drift`. */
export function manometerLines(quantity: Measurand, rig: Stated, pressurePa: number): BudgetLine[] {
  const { calibration } = rig
  if (!calibration) return [accuracyLine(quantity, rig, pressurePa, true)]
  return certificateLines(quantity, calibration, correctionUncertaintyPa(calibration, pressurePa))
}

/**
 * The same for make − break. By its accuracy the offset cancels and the gain stays. What two points of a certificate
 * share is not stated, so they count as independent (only an opposite error would be worse); drift since its date goes
 * through the zero that is taken, so the difference drifts no more than a pressure does.
 */
export function manometerDifferenceLines(rig: Stated, makePa: number, breakPa: number): BudgetLine[] {
  const { calibration } = rig
  if (!calibration) return [accuracyLine('differential', rig, makePa - breakPa, false)]
  const [make, back] = [makePa, breakPa].map((pa) => correctionUncertaintyPa(calibration, pa))
  return certificateLines('differential', calibration, Math.hypot(make!, back!))
}

function certificateLines(
  quantity: Measurand,
  { coverage, driftPa }: NonNullable<Stated['calibration']>,
  uPa: number,
): BudgetLine[] {
  return [
    line(quantity, 'certificate', uPa * coverage, 'normal', coverage),
    line(quantity, 'drift', driftPa, 'rectangular', root3),
  ]
}

/** JCGM 100:2008, 4.3.7 for a rectangle, 4.3.3 for a stated multiple. `offset` false leaves the full-scale part out. */
function accuracyLine(quantity: Measurand, { accuracy }: Stated, pressurePa: number, offset: boolean): BudgetLine {
  const reading = (accuracy?.ofReading ?? 0) * Math.abs(pressurePa)
  const fullScale = offset ? (accuracy?.fullScalePa ?? 0) : 0
  return accuracy?.distribution === 'normal'
    ? line(quantity, 'gauge', Math.hypot(reading, fullScale), 'normal', accuracy.coverage)
    : line(quantity, 'gauge', reading + fullScale, 'rectangular', root3)
}

function line(
  quantity: Measurand,
  component: string,
  valuePa: number,
  distribution: BudgetLine['distribution'],
  divisor: number,
): BudgetLine {
  const uPa = valuePa / divisor
  return { quantity, component, value: valuePa, unit: 'Pa', distribution, divisor, sensitivity: 1, uPa, dof: null }
}
