// The vents of a session on two displays into how much later the one shows them than the other, with its standard uncertainty.
import { criteria } from '../criteria.table.ts'
import type { Columns } from '../model/columns.ts'
import { indexAt } from '../statistics/index-at.ts'
import { mean, sampleSd } from '../statistics/mean.ts'
import { pressureAt } from './pressure-track.ts'

type Pressures = Columns<'tUs' | 'pressurePa'>
export type Delay = { valueS: number; uS: number; n: number }

/**
 * Of each fall from `fromUs` to `toUs` the area between the two displays over the height of the fall: the mean delay of whatever
 * lies between them, damping, averaging, dead time and hose alike (first moment of a linear response). The later display is
 * scaled to the earlier one just before, so that their gains cancel. null for too few falls.
 */
export function delayBetween(
  early: Pressures,
  late: Pressures,
  falls: readonly { fromUs: number; toUs: number }[],
): Delay | null {
  const delaysS = falls.flatMap(({ fromUs, toUs }) => {
    const heightPa = pressureAt(early, fromUs) - pressureAt(early, toUs)
    const before = { fromUs: fromUs - criteria.delayLevelUs, toUs: fromUs }
    const [levelPa, latePa] = [area(early, before), area(late, before)]
    if (!(heightPa > 0 && levelPa > 0 && latePa > 0)) return []
    const betweenPaS = (area(late, { fromUs, toUs }) * levelPa) / latePa - area(early, { fromUs, toUs })
    return [betweenPaS / heightPa]
  })
  const [valueS, sdS] = [mean(delaysS), sampleSd(delaysS)]
  if (valueS === null || sdS === null || delaysS.length < criteria.delayFalls) return null
  return { valueS, uS: sdS / Math.sqrt(delaysS.length), n: delaysS.length }
}

/** Area under the straight lines between the readings, Pa·s. */
function area(pressures: Pressures, { fromUs, toUs }: { fromUs: number; toUs: number }): number {
  const { tUs, pressurePa } = pressures.of
  let sum = 0
  let [lastUs, lastPa] = [fromUs, pressureAt(pressures, fromUs)]
  const add = (us: number, pa: number) => {
    sum += ((us - lastUs) / 1e6) * ((pa + lastPa) / 2)
    lastUs = us
    lastPa = pa
  }
  for (let i = indexAt(pressures, fromUs); i < pressures.length && tUs[i]! < toUs; i++) add(tUs[i]!, pressurePa[i]!)
  add(toUs, pressureAt(pressures, toUs))
  return sum
}
