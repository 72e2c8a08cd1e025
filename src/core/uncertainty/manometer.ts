// A rig's statement on its manometer (accuracy, or certificate and drift) into standard uncertainties and budget lines.
import { criteria } from '../criteria.table.ts'
import type { Certificate } from '../model/certificate.ts'
import type { BudgetLine } from '../model/result.ts'
import type { RigSpec } from '../model/rig.ts'
import { betweenPointsPa, correctionUncertaintyPa } from './certificate.ts'

type Measurand = BudgetLine['quantity']
type Stated = Pick<RigSpec, 'accuracy' | 'calibration'>

const root3 = Math.sqrt(3)

/** Standard uncertainty of the manometer at `pressurePa`, Pa; 0 where the rig states nothing of it. */
export function manometerUncertaintyPa(rig: Stated, pressurePa: number): number {
  return Math.hypot(...manometerLines('make', rig, pressurePa).map((line) => line.uPa))
}

/** Half-width of what its accuracy allows at a pressure, Pa; 0 where none is stated. */
function accuracyPa({ accuracy }: Stated, pressurePa: number): number {
  const reading = (accuracy?.ofReading ?? 0) * Math.abs(pressurePa)
  const fullScale = accuracy?.fullScalePa ?? 0
  return accuracy?.distribution === 'normal' ? Math.hypot(reading, fullScale) : reading + fullScale
}

/** What the manometer adds to the budget of a pressure: `gauge` from its accuracy, or what its certificate leaves open. */
export function manometerLines(quantity: Measurand, rig: Stated, pressurePa: number): BudgetLine[] {
  const { calibration } = rig
  if (!calibration) return [accuracyLine(quantity, 'gauge', rig, accuracyPa(rig, pressurePa))]
  return certificateLines(quantity, calibration, [certifiedAt(rig, calibration, pressurePa)])
}

/**
 * The same for make − break. The offset cancels and the gain stays: all of the accuracy at the make may be one; what differs between
 * rise and fall stays too, twice: high on one way and low on the other. What two points of a certificate share is not stated, so they count as
 * independent (only an opposite error would be worse); drift since its date goes through the zero that is taken, so the
 * difference drifts no more than a pressure does.
 */
export function manometerDifferenceLines(rig: Stated, makePa: number, breakPa: number): BudgetLine[] {
  const { accuracy, calibration } = rig
  const share = accuracy?.hysteresis ?? criteria.hysteresisShare
  const hysteresis = accuracyLine('differential', 'hysteresis', rig, 2 * share * accuracyPa(rig, makePa))
  const lines = calibration
    ? certificateLines(
        'differential',
        calibration,
        [makePa, breakPa].map((pa) => certifiedAt(rig, calibration, pa)),
      )
    : [accuracyLine('differential', 'gauge', rig, accuracyPa(rig, makePa) * Math.abs(1 - breakPa / makePa))]
  return accuracy ? [...lines, hysteresis] : lines
}

type Certified = { uPa: number; betweenPa: number }

function certifiedAt(rig: Stated, calibration: Certificate, pressurePa: number): Certified {
  return {
    uPa: correctionUncertaintyPa(calibration, pressurePa),
    betweenPa: betweenPointsPa(calibration, pressurePa, accuracyPa(rig, pressurePa)),
  }
}

/** The lines of one pressure, or of the difference of two that count as independent. */
function certificateLines(
  quantity: Measurand,
  { coverage, driftPa }: Certificate,
  at: readonly Certified[],
): BudgetLine[] {
  const uPa = Math.hypot(...at.map((each) => each.uPa))
  return [
    line(quantity, 'certificate', uPa * coverage, 'normal', coverage),
    line(quantity, 'drift', driftPa, 'rectangular', root3),
    line(quantity, 'between-points', Math.hypot(...at.map((each) => each.betweenPa)), 'rectangular', root3),
  ]
}

/** JCGM 100:2008, 4.3.7 for a rectangle, 4.3.3 for a stated multiple. */
function accuracyLine(quantity: Measurand, component: string, { accuracy }: Stated, halfPa: number): BudgetLine {
  return accuracy?.distribution === 'normal'
    ? line(quantity, component, halfPa, 'normal', accuracy.coverage)
    : line(quantity, component, halfPa, 'rectangular', root3)
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
