// Pressures in pascal into the texts shown: the part's own unit and pascal, no more digits than are known.
import { type LimitPa, type Part, ratingOf } from '../../core/model/part.ts'
import { type PressureUnit, pressureUnits } from '../../core/model/units.ts'
import { roundToUncertainty } from '../../core/statistics/round-to-uncertainty.ts'

/** Shown in place of a number that could not be measured. */
export const noNumber = '–'

/** Decimals that show a step of this size, 0 to 9. */
function decimalsOf(step: number): number {
  if (!(step > 0) || !Number.isFinite(step)) return 0
  return Math.min(9, Math.max(0, -Math.floor(Math.log10(step) + 1e-9)))
}

/** `value` with `decimals`; never a negative zero. */
function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals)
  return Number(text) === 0 ? text.replace('-', '') : text
}

/** `pressurePa` in `unit`, its last digit about `stepPa`. Null, NaN and infinity give `–`. */
export function stepText(pressurePa: number | null, stepPa: number, unit: PressureUnit): string {
  if (pressurePa === null || !Number.isFinite(pressurePa)) return noNumber
  const factor = pressureUnits[unit]
  return fixed(pressurePa / factor, decimalsOf(stepPa / factor))
}

/** Value and expanded uncertainty in `unit`, rounded together; without an uncertainty the value to `stepPa` and `–`. */
export function uncertainText(
  valuePa: number | null,
  UPa: number | null,
  unit: PressureUnit,
  stepPa: number,
): { value: string; U: string } {
  const factor = pressureUnits[unit]
  const rounded = valuePa === null || UPa === null ? null : roundToUncertainty(valuePa / factor, UPa / factor)
  if (rounded === null) return { value: stepText(valuePa, stepPa, unit), U: noNumber }
  return { value: rounded.value, U: rounded.uncertainty }
}

/** A limit as it was given: up to four significant digits, no padding. */
export function limitText(pressurePa: number, unit: PressureUnit): string {
  return String(Number((pressurePa / pressureUnits[unit]).toPrecision(4)))
}

/** `0.22 to 0.28`, `at least 0.15`, `at most 0.28`; null where there is no limit. */
export function limitsText(limit: LimitPa | null, unit: PressureUnit): string | null {
  if (limit === null || (limit.lowPa === null && limit.highPa === null)) return null
  if (limit.lowPa === null) return `at most ${limitText(limit.highPa as number, unit)}`
  if (limit.highPa === null) return `at least ${limitText(limit.lowPa, unit)}`
  return `${limitText(limit.lowPa, unit)} to ${limitText(limit.highPa, unit)}`
}

/** The step, in Pa, to which a single pressure of this part is shown: a two hundredth of its rated point. */
export const liveStepPa = (part: Part): number => ratingOf(part).ratedPa / 200
