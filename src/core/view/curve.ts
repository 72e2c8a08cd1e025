// The trip-point curve of a whole recording as plain numbers: pressure against time with its trips, contact against pressure.

import type { LimitPa } from '../model/part.ts'
import type { PressureUnit } from '../model/units.ts'
import type { TripMark } from './live.ts'

/** Times in s since the start, pressures in Pa (zero subtracted, suction that pushes the switch positive). */
export type Curve = {
  title: string
  unit: PressureUnit
  pressure: readonly { tS: number; pressurePa: number }[]
  /** Contact readings with the pressure at their time; null where unknown. */
  contact: readonly { tS: number; pressurePa: number | null; actuated: boolean | null; ohm: number }[]
  trips: readonly TripMark[]
  limits: Record<'make' | 'break', LimitPa | null>
}
