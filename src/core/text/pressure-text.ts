// Pressures in pascal into the texts shown: the unit of the rating first, Pa second, no more digits than are known.
import type { LimitPa } from '../model/part.ts'
import { type PressureUnit, pressureUnits } from '../model/units.ts'
import { atPlace } from '../statistics/at-place.ts'
import { placeOfUncertainty, roundToUncertainty } from '../statistics/round-to-uncertainty.ts'
import { figuresText, givenText } from './figures-text.ts'

/** Shown in place of a number that is not known. */
export const noNumber = '–'

/**
 * How far a pressure is rounded. `UPa`: to the last figure of its expanded uncertainty, to three figures where that is
 * null. `stepPa`: its last digit is about this step. `figures`: significant figures. `upTo`: a number as it was given, at
 * most so many figures. `as U`: an uncertainty itself, as `roundToUncertainty` does. `at most`: two figures, never more
 * than it is.
 */
export type Digits = { UPa: number | null } | Step | { figures: number } | { upTo: number } | 'as U' | 'at most'

export type Step = { stepPa: number }

const threeFigures: Digits = { figures: 3 }

/** A value with its expanded uncertainty; null where it is not known. */
export type Uncertain = { valuePa: number | null; UPa: number | null }

/** The unit of the rating, beside which Pa is shown; or all units that are shown, that of the rating first. */
export type Units = PressureUnit | readonly PressureUnit[]

/** The units that a pressure is shown in: that of the rating first, `second` behind it. */
export function unitsShown(unit: Units, second: PressureUnit = 'Pa'): readonly PressureUnit[] {
  if (typeof unit !== 'string') return unit
  return unit === second ? [unit] : [unit, second]
}

/** The number alone, in `unit`, such as `0.250`; `–` for null, NaN and infinity. */
export function numberText(pressurePa: number | null, unit: PressureUnit, digits: Digits = threeFigures): string {
  if (pressurePa === null || !Number.isFinite(pressurePa)) return noNumber
  const perUnit = pressureUnits[unit]
  const value = pressurePa / perUnit
  if (digits === 'as U') return roundToUncertainty(value, value)?.uncertainty ?? figuresText(value, 2)
  if (digits === 'at most') return atMostText(value)
  if ('upTo' in digits) return givenText(value, digits.upTo)
  if ('figures' in digits) return figuresText(value, digits.figures)
  if ('stepPa' in digits) return atPlace(value, placeOfStep(digits.stepPa / perUnit))
  const rounded = digits.UPa === null ? null : roundToUncertainty(value, digits.UPa / perUnit)
  return rounded?.value ?? figuresText(value, 3)
}

/** In one unit, such as `0.250 inH2O`; `per` follows the unit: `0.0125 inH2O/s`. */
export function oneUnitText(pressurePa: number | null, unit: PressureUnit, digits?: Digits, per = ''): string {
  return `${numberText(pressurePa, unit, digits)} ${unit}${per}`
}

/** In the unit of the rating and in Pa, such as `0.250 inH2O (62.3 Pa)`; `62.3 Pa` where the rating is in Pa. */
export function pressureText(pressurePa: number | null, unit: Units, digits?: Digits, per = ''): string {
  return inBoth(unit, (as) => oneUnitText(pressurePa, as, digits, per))
}

/** Value and expanded uncertainty rounded together, in `unit`, such as `0.2473 ± 0.0021`; `0.247 ± –` to `step` where there is none, `–` without a value. */
export function uncertainNumbers({ valuePa, UPa }: Uncertain, unit: PressureUnit, step: Step): string {
  if (valuePa === null) return noNumber
  const known = UPa === null || placeOfUncertainty(UPa) === null ? null : UPa
  return `${numberText(valuePa, unit, known === null ? step : { UPa: known })} ± ${numberText(known, unit, 'as U')}`
}

/** Value and expanded uncertainty in the unit of the rating and in Pa: `0.2473 ± 0.0021 inH2O (61.60 ± 0.52 Pa)`. */
export function uncertainText(value: Uncertain, unit: PressureUnit, step: Step): string {
  return inBoth(unit, (as) => `${uncertainNumbers(value, as, step)} ${as}`)
}

/** How much lower and higher than its value ± U the truth may be. */
export type Allowed = Pick<Uncertain, 'UPa'> & { allowLowPa: number | null; allowHighPa: number | null }

/**
 * What lag and leak leave open beside U, such as `0.0145 inH2O (3.61 Pa) lower`, where `narrow` the number alone; null where both
 * sides round to nothing at the digits of U (to `step` where there is none).
 */
export function allowanceText(
  { UPa, allowLowPa, allowHighPa }: Allowed,
  units: Units,
  step: Step,
  narrow = false,
): string | null {
  const digits: Digits = UPa === null || placeOfUncertainty(UPa) === null ? step : { UPa }
  const sides = [
    [allowLowPa, 'lower'],
    [allowHighPa, 'higher'],
  ] as const
  const told = sides.flatMap(([pa, side]) => {
    const [unit = 'Pa'] = unitsShown(units)
    if (!(Number(numberText(pa, unit, digits)) > 0)) return []
    return [`${narrow ? numberText(pa, unit, digits) : pressureText(pa, units, digits)} ${side}`]
  })
  return told.length > 0 ? told.join(' or ') : null
}

/** The number of a limit as it was given. */
export const limitText = (pressurePa: number, unit: PressureUnit): string => numberText(pressurePa, unit, { upTo: 4 })

/**
 * `0.22 to 0.28`, `at least 0.15`, `at most 0.28`; null where there is no limit. With `UPa` the interval in which results
 * of that uncertainty pass: no more digits than the uncertainty has, never wider than it is.
 */
export function limitsText(limit: LimitPa | null, unit: PressureUnit, UPa: number | null = null): string | null {
  const { lowPa, highPa } = limit ?? { lowPa: null, highPa: null }
  const low = lowPa === null ? null : edgeText(lowPa, unit, UPa, Math.ceil)
  const high = highPa === null ? null : edgeText(highPa, unit, UPa, Math.floor)
  if (low === null) return high === null ? null : `at most ${high}`
  return high === null ? `at least ${low}` : `${low} to ${high}`
}

function edgeText(pressurePa: number, unit: PressureUnit, UPa: number | null, inward: (steps: number) => number) {
  const place = UPa === null ? null : placeOfUncertainty(UPa / pressureUnits[unit])
  if (place === null) return limitText(pressurePa, unit)
  return atPlace(inward(pressurePa / pressureUnits[unit] / 10 ** place) * 10 ** place, place)
}

function inBoth(unit: Units, write: (as: PressureUnit) => string): string {
  const [first = '', second] = unitsShown(unit).map(write)
  return second === undefined ? first : `${first} (${second})`
}

/** The step to which one reading of a part is shown: a two hundredth of its rated point; common practice, no source. */
export const readingStep = (ratedPa: number): Step => ({ stepPa: ratedPa / 200 })

/** The step of single trips, and of rates a second: a tenth of a reading's. */
export const tripStep = (ratedPa: number): Step => ({ stepPa: ratedPa / 2000 })

/** Decimal place that shows a step of this size: no coarser than ones, no finer than 10^-9. */
export function placeOfStep(step: number): number {
  if (!(step > 0) || !Number.isFinite(step)) return 0
  // A step such as 0.001 comes out of the division a hair below itself.
  return Math.max(-9, Math.min(0, Math.floor(Math.log10(step) + 1e-9)))
}

function atMostText(value: number): string {
  if (!(value > 0)) return figuresText(value, 2)
  const place = Math.floor(Math.log10(value)) - 1
  return atPlace(Math.floor(value / 10 ** place + 1e-9) * 10 ** place, place)
}
