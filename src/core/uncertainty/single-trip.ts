// A single trip into the interval that it may lie in.
import { criteria } from '../criteria.table.ts'
import type { TripValue } from '../trips/trip-moment.ts'
import type { Measured } from './budget.ts'

/** Where its ramp leaves more open than its interval shows: the rectangle of that variance, Pa. */
const rampHalfPa = ({ sdPa }: TripValue) => Math.sqrt(3) * sdPa

/** Half the width of what a single trip itself leaves open, Pa. */
export const ownHalfPa = (value: TripValue): number => Math.max(rampHalfPa(value), (value.hiPa - value.loPa) / 2)

type Interval = { lowPa: number; highPa: number }

/** What a single trip may have been, Pa: its own interval, widened by what manometer, zero and lag leave open. */
export function ownInterval(value: TripValue, { instrumentU, lagUs }: Measured): Interval {
  const widenPa = criteria.coverageFactor * Math.hypot(instrumentU, value.ratePaPerS * lagUs)
  const ownPa = rampHalfPa(value)
  return {
    lowPa: Math.min(value.loPa, value.valuePa - ownPa) - widenPa,
    highPa: Math.max(value.hiPa, value.valuePa + ownPa) + widenPa,
  }
}

/** The same, widened by what hose and leak may hide: in the mean of all trips, or at the pace of this one. */
export function widened(value: TripValue, measured: Measured): Interval {
  const { lowPa, highPa } = ownInterval(value, measured)
  const { allowance } = measured
  return {
    lowPa: lowPa - Math.max(allowance.lowPa, value.open.lowPa),
    highPa: highPa + Math.max(allowance.highPa, value.open.highPa),
  }
}
