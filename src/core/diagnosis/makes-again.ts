// A stroke into the makes behind its first release, and whether the hand pulled for them.
import { criteria } from '../criteria.table.ts'
import { pressureAt } from '../signal/pressure-track.ts'
import { indexAt } from '../statistics/index-at.ts'
import type { Cycle } from '../strokes/cycles.ts'
import type { Edge } from '../strokes/edges.ts'
import type { Case } from './rule.ts'

/** `release`: the edge before it; `pulled`: the pressure rose by a good deal in between. */
type MadeAgain = { release: Edge; make: Edge; pulled: boolean }

/** Each make of a stroke behind its first two edges and before its end, in order; empty for a plain stroke. */
export function makesAgain({ track, setup }: Pick<Case, 'track' | 'setup'>, { edges, span }: Cycle): MadeAgain[] {
  const leastRisePa = criteria.chatterShare * setup.rating.ratedPa
  const rosePa = (fromUs: number, toUs: number) => {
    const nowPa = pressureAt(track, toUs)
    const since = track.part(indexAt(track, fromUs), indexAt(track, toUs)).of.pressurePa
    return nowPa - since.reduce((lowestPa, pa) => Math.min(lowestPa, pa), nowPa)
  }
  return edges.flatMap((make, i) => {
    const release = edges[i - 1]
    if (!make.to || i <= 1 || !release || make.loUs >= span.endUs) return []
    return [{ release, make, pulled: rosePa(release.hiUs, make.loUs) >= leastRisePa }]
  })
}
