// A value with its expanded uncertainty into the two texts a report prints.
import { atPlace } from './at-place.ts'

export type Rounded = { value: string; uncertainty: string }

/**
 * The uncertainty to two significant figures and the value to the same decimal place: JCGM 100:2008 (GUM), 7.2.6. Both
 * in one unit, the caller's. The uncertainty goes to the nearest figure where that takes less than 1 % away, else up:
 * 7.2.6 rounds 28.05 down and 10.47 up and sets no limit between; 1 % is this program's. null where a number is not
 * finite or the uncertainty not above 0.
 */
export function roundToUncertainty(value: number, uncertainty: number): Rounded | null {
  const place = placeOfUncertainty(uncertainty)
  if (place === null || !Number.isFinite(value)) return null
  return { value: atPlace(value, place), uncertainty: atPlace(roundUp(uncertainty, place) * 10 ** place, place) }
}

/** The decimal place of the second figure of an uncertainty: -2 for 0.52; null where it is not finite or not above 0. */
export function placeOfUncertainty(uncertainty: number): number | null {
  if (!Number.isFinite(uncertainty) || uncertainty <= 0) return null
  const place = Math.floor(Math.log10(uncertainty)) - 1
  // 99.6 becomes 100, whose second figure is the ten.
  return roundUp(uncertainty, place) >= 100 ? place + 1 : place
}

/** Whole number of steps of 10^place in an uncertainty. */
function roundUp(uncertainty: number, place: number): number {
  const steps = uncertainty / 10 ** place
  const nearest = Math.round(steps)
  return nearest > 0.99 * steps ? nearest : Math.ceil(steps)
}
