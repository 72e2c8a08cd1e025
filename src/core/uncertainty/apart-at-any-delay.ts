// What two manometers showed in the strokes into how far they lie apart, whatever delay there is between them.
import { criteria } from '../criteria.table.ts'
import { pressureAt } from '../signal/pressure-track.ts'
import type { SwitchEnd } from '../signal/switch-end.ts'
import { indexAt } from '../statistics/index-at.ts'
import { mean, median } from '../statistics/mean.ts'
import { type Shown, uOf } from './line-drop.ts'

/** Pa: about where they were compared, how far they lay apart there, what each claims (95 %). */
export type Apart = { atPa: number; differPa: number; firstPa: number; secondPa: number }

type Pair = { teePa: number; dropPa: number }
type Nearest = { pairs: Pair[]; apartPa: number }
type Both = [number, number]

const stepS = 0.1
const most = Math.round(criteria.mostLagS / stepS)
/** Of the second, and where negative of the first. */
const delaysS = Array.from({ length: 2 * most + 1 }, (_, i) => (i - most) * stepS)

/**
 * A few readings of the second, at any pace, are enough: of all delays of one or the other the one that brings them nearest is taken,
 * and half of the readings still lie further apart than both claim. null where they do not, or where too few were seen. A reading near
 * zero while the tee is little drawn is of a pinched hose.
 */
export function apartAtAnyDelay(tee: Shown, { manometer, zero, seen }: SwitchEnd, ratedPa: number): Apart | null {
  const { tUs, pressurePa } = seen.of
  const until = indexAt(seen, tee.track.at(-1)?.tUs ?? 0)
  const every = Math.ceil(until / criteria.apartMostReadings)
  const pairsAt = (delayS: number): Pair[] => {
    const pairs: Pair[] = []
    for (let i = 0; i < until; i += every) {
      const teePa = pressureAt(tee.track, tUs[i]! - delayS * 1e6)
      const leastShare =
        Math.abs(pressurePa[i]!) < criteria.pinchNearShare * ratedPa ? criteria.unpinchedShare : criteria.strokeShare
      if (teePa >= leastShare * ratedPa) pairs.push({ teePa, dropPa: teePa - pressurePa[i]! })
    }
    return pairs
  }
  const nearest = delaysS
    .map(pairsAt)
    .filter((pairs) => pairs.length >= criteria.apartReadings)
    .map((pairs) => ({ pairs, apartPa: median(pairs.map(({ dropPa }) => Math.abs(dropPa)))! }))
    .reduce<Nearest | null>((best, one) => (best === null || one.apartPa < best.apartPa ? one : best), null)
  if (nearest === null) return null
  const atPa = mean(nearest.pairs.map(({ teePa }) => teePa))!
  const [firstPa, secondPa] = [tee, { manometer, zero }].map(
    (shown) => criteria.coverageFactor * uOf(shown, atPa),
  ) as Both
  if (nearest.apartPa <= firstPa + secondPa) return null
  return { atPa, differPa: median(nearest.pairs.map(({ dropPa }) => dropPa))!, firstPa, secondPa }
}
