// What is wrong with the pressures of a part that no schema sees: below zero, more than air can give, a break above the make, a rated point outside its limits.
import { type Part, ratingOf } from '../core/model/part.ts'
import { type PressureUnit, pressureUnits } from '../core/model/units.ts'
import { oneUnitText } from '../core/text/pressure-text.ts'
import type { NameField } from './describe-issue.ts'

/** No vacuum is deeper: the standard atmosphere by definition, Pa (ISO 2533:1975). */
const atmospherePa = 101_325

/** The first mistake: the field it is in, and the sentence without its end; null where there is none. */
export function limitMistake(part: Part, called: NameField): { field: string; text: string } | null {
  const wrong = (field: string, what: string) => ({ field, text: `${called(field)} ${what}` })
  const tooMuch = (field: string, value: number, unit: PressureUnit) =>
    value * pressureUnits[unit] > atmospherePa
      ? wrong(
          field,
          `is ${value} ${unit}; it must be at most ${oneUnitText(atmospherePa, unit, { upTo: 3 })}, the pressure of the air`,
        )
      : null
  const { rated, limits: stated } = part
  const absurd = tooMuch('rated.value', rated.value, rated.unit)
  if (absurd) return absurd
  for (const name of ['make', 'break', 'differential'] as const)
    for (const side of ['low', 'high'] as const) {
      const value = stated?.[name]?.[side] ?? 0
      const unit = stated?.[name]?.unit ?? 'Pa'
      const field = `limits.${name}.${side}`
      if (value < 0) return wrong(field, `is ${value} ${unit}; it must be at least 0 ${unit}`)
      const far = tooMuch(field, value, unit)
      if (far) return far
    }
  const { ratedPa, ratedOn, limits } = ratingOf(part)
  const slackPa = 1e-9 * ratedPa
  const [breakLowPa, makeHighPa] = [limits.break?.lowPa ?? 0, limits.make?.highPa ?? Infinity]
  if (breakLowPa > makeHighPa + slackPa)
    return wrong(
      'limits.break.low',
      `is ${stated?.break?.low} ${stated?.break?.unit}; it must be at most ${called('limits.make.high')} ` +
        `${stated?.make?.high} ${stated?.make?.unit}, because a switch breaks below where it makes`,
    )
  const { lowPa = null, highPa = null } = limits[ratedOn] ?? {}
  if ((lowPa ?? 0) <= ratedPa + slackPa && ratedPa - slackPa <= (highPa ?? Infinity)) return null
  const limit = stated?.[ratedOn]
  const same = limit && limit.unit !== rated.unit ? ` (${oneUnitText(ratedPa, limit.unit, { upTo: 3 })})` : ''
  const range = `${limit?.low ?? 'any'} to ${limit?.high ?? 'any'} ${limit?.unit}`
  return wrong(
    'rated.value',
    `is ${rated.value} ${rated.unit}${same}; it must be within ${called(`limits.${ratedOn}`)} ${range}: check the units`,
  )
}
