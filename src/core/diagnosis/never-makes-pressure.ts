// A part and the manometer of its rig into the pressure at which a switch that has not made never will.

import { criteria } from '../criteria.table.ts'
import type { Rating } from '../model/part.ts'
import type { RigSpec } from '../model/rig.ts'
import { manometerUncertaintyPa } from '../uncertainty/manometer.ts'

/** From this pressure on a missing make is the switch's fault or the bench's, and no longer a part that trips high, Pa. */
export function neverMakesPa({ ratedPa, halfTolerancePa }: Rating, rig: RigSpec): number {
  const beyondPa = criteria.neverMakesSds * manometerUncertaintyPa(rig, ratedPa)
  return Math.max(criteria.neverMakesShare * ratedPa, ratedPa + halfTolerancePa + beyondPa)
}
