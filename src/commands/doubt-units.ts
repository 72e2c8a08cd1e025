// The pressures of a part, and the reach of a manometer, into those that hardly fit the rated point: most often a unit is mistaken.
import { calledAt, fieldsOf } from '../core/model/fields.ts'
import { type Part, partFileSchema } from '../core/model/part.ts'
import type { Rig } from '../core/model/rig.ts'
import { type PressureUnit, pressureUnitNames, pressureUnits } from '../core/model/units.ts'
import { figuresText } from '../core/text/figures-text.ts'
import { oneUnitText } from '../core/text/pressure-text.ts'

/** Shares of the rated point: common practice, no source. A step from unit to unit of 2.49 or more leaves the range of a rated limit; 1.87 (mmHg for inH2O) does not. */
const usual = {
  /** Limits of the transition that is rated. */
  rated: { least: 0.42, most: 2.4 },
  /** Of the other: the break below the make. */
  below: { least: 0.3, most: 1.3 },
  above: { least: 0.8, most: 3.3 },
  differential: { least: 0.002, most: 0.8 },
  /** Its upper limit is the tolerance, its lower one may be next to nothing. */
  differentialHigh: { least: 0.05, most: 0.8 },
  proof: { least: 2, most: 200 },
  /** Full scale of the manometer: the peak of a stroke at least, and no more than a digit still tells. */
  fullScale: { least: 1.25, most: 100 },
} as const

type Range = { least: number; most: number }
type Stated = { field: string; value: number; unit: PressureUnit; range: Range }
export type UnitDoubt = { field: string; text: string }

/** Limits and proof pressure that hardly fit the rated point. */
export function partUnitDoubts(part: Part): UnitDoubt[] {
  const called = (field: string) => calledAt(fieldsOf(partFileSchema), field)
  return statedOf(part).flatMap((stated) => {
    const text = doubtOf(stated, part)
    return text === null ? [] : [{ field: stated.field, text: `${called(stated.field)} is ${text}` }]
  })
}

/** The manometer's full scale, held against the rated point; null where it fits, or is not stated. */
export function reachDoubt(part: Part, rig: Rig): string | null {
  const fullScale = (rig.bridge ?? rig.manometer)?.accuracy?.fullScale
  if (!fullScale) return null
  const text = doubtOf({ field: 'accuracy.fullScale', ...fullScale, range: usual.fullScale }, part)
  return text === null ? null : `The full scale of the manometer is ${text}`
}

function statedOf({ rated, limits, proof }: Part): Stated[] {
  const ofLimits = (['make', 'break', 'differential'] as const).flatMap((name) =>
    (['low', 'high'] as const).flatMap((side): Stated[] => {
      const value = limits?.[name]?.[side] ?? null
      // A lower limit of 0 is none.
      if (value === null || value <= 0) return []
      const own = name === rated.on ? usual.rated : name === 'break' ? usual.below : usual.above
      const differential = side === 'high' ? usual.differentialHigh : usual.differential
      const range = name === 'differential' ? differential : own
      return [{ field: `limits.${name}.${side}`, value, unit: limits?.[name]?.unit ?? rated.unit, range }]
    }),
  )
  return [...ofLimits, ...(proof ? [{ field: 'proof.value', ...proof, range: usual.proof }] : [])]
}

/** The number with its share of the rated point and the unit in which it would fit; null where it fits as it is. */
function doubtOf({ value, unit, range }: Stated, { rated }: Part): string | null {
  const ratedPa = rated.value * pressureUnits[rated.unit]
  const shareIn = (of: PressureUnit) => (value * pressureUnits[of]) / ratedPa
  const fits = (share: number) => share >= range.least && share <= range.most
  if (fits(shareIn(unit))) return null
  const [meant] = [rated.unit, ...pressureUnitNames].filter((other) => fits(shareIn(other)))
  const share = `${figuresText(shareIn(unit), 2)} × the rated point of ${oneUnitText(ratedPa, rated.unit, { upTo: 4 })}`
  const instead = meant === undefined ? 'is that so?' : `is it ${value} ${meant}?`
  return `${value} ${unit}, ${share}: ${instead}`
}
