// The trip-point curve of a whole recording as plain numbers: pressure against time with its trips, contact against pressure.

import type { LimitPa } from '../model/part.ts'
import type { Estimate, Verdict } from '../model/result.ts'
import type { PressureUnit } from '../model/units.ts'
import type { TripMark } from './live.ts'

/** Times in s since the start, pressures in Pa (zero subtracted, suction that pushes the switch positive). */
export type Curve = {
  title: string
  /** What it came to, when (ISO 8601) and on which rig; whether no real part was tested. */
  verdict: Verdict
  at: string
  rig: string
  simulated: boolean
  unit: PressureUnit
  pressure: readonly { tS: number; pressurePa: number }[]
  /** Contact readings with the pressure at their time; null where unknown. */
  contact: readonly { tS: number; pressurePa: number | null; actuated: boolean | null; ohm: number }[]
  /** `counted`: it is one of the n of its estimate. */
  trips: readonly (TripMark & { counted: boolean })[]
  /** As the verdict has them. */
  estimates: Record<'make' | 'break', Estimate>
  limits: Record<'make' | 'break', LimitPa | null>
}
