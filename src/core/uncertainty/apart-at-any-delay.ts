// What two manometers showed in the strokes into how far they lie apart, whatever delay there is between them.
import { criteria } from '../criteria.table.ts'
import { pressureAt } from '../signal/pressure-track.ts'
import type { SwitchEnd } from '../signal/switch-end.ts'
import { mean, median } from '../statistics/mean.ts'
import { type Shown, uOf } from './line-drop.ts'

/** Pa: about where they were compared, how far they lay apart there, what each claims (95 %). */
export type Apart = { atPa: number; differPa: number; firstPa: number; secondPa: number }

const stepS = 0.1
const delaysS = Array.from({ length: Math.round(criteria.mostLagS / stepS) + 1 }, (_, i) => i * stepS)

/**
 * A few readings of the second, at any pace, are enough: of all delays of one or the other the one that brings them nearest is taken,
 * and half of the readings still lie further apart. null where they do not, or where too few were seen. A reading at rest while the
 * tee is little drawn is of a pinched hose.
 */
export function apartAtAnyDelay(tee: Shown, end: SwitchEnd, ratedPa: number): Apart | null {
  const { seen: track } = end
  const lastUs = tee.track.at(-1)?.tUs ?? 0
  const { strokeShare, pinchRestShare, heldFromShare, apartReadings, coverageFactor } = criteria
  let nearest: { apartPa: number; drops: number[]; pressures: number[] } | null = null
  for (const delayS of delaysS.flatMap((s) => [s, -s])) {
    const [drops, pressures]: number[][] = [[], []]
    for (let i = 0; i < track.length && track.of.tUs[i]! <= lastUs; i++) {
      const [teePa, endPa] = [pressureAt(tee.track, track.of.tUs[i]! - delayS * 1e6), track.of.pressurePa[i]!]
      const isPinched = Math.abs(endPa) < pinchRestShare * ratedPa && teePa < heldFromShare * ratedPa
      if (teePa < strokeShare * ratedPa || isPinched) continue
      drops!.push(teePa - endPa)
      pressures!.push(teePa)
    }
    if (drops!.length < apartReadings) continue
    const apartPa = median(drops!.map(Math.abs))!
    if (nearest === null || apartPa < nearest.apartPa) nearest = { apartPa, drops: drops!, pressures: pressures! }
  }
  if (nearest === null) return null
  const atPa = mean(nearest.pressures)!
  const [firstPa, secondPa] = [coverageFactor * uOf(tee, atPa), coverageFactor * uOf(end, atPa)]
  if (nearest.apartPa <= firstPa + secondPa) return null
  return { atPa, differPa: median(nearest.drops)!, firstPa, secondPa }
}
