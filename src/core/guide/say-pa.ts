// A pressure into words: the part's unit first, pascal second, three significant digits.
import type { Rating } from '../model/part.ts'
import { pressureUnits } from '../model/units.ts'

/** Such as `0.25 inH2O (62.3 Pa)`; a part rated in pascal has no second number. */
export function sayPa({ unit }: Pick<Rating, 'unit'>, pressurePa: number): string {
  const pascal = `${Number(pressurePa.toPrecision(3))} Pa`
  return unit === 'Pa' ? pascal : `${Number((pressurePa / pressureUnits[unit]).toPrecision(3))} ${unit} (${pascal})`
}
