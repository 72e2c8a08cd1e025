// Kick-dated trips into the delay of a meter that hunts for its range: late where the wired pair closes, punctual where it opens.
import { criteria } from '../../criteria.table.ts'
import { median } from '../../statistics/mean.ts'
import type { TripInput } from '../trip-moment.ts'

export type MeterDelay = { excessS: number; uS: number }

/** How much later closings are seen than openings, by the kick's clock; null where that is nothing to speak of. */
export function meterDelay(trips: readonly TripInput[]): MeterDelay | null {
  const lagsOf = (closes: boolean) => trips.filter((t) => t.kick && t.closes === closes).map(kickLag)
  const [closing, opening] = [lagsOf(true), lagsOf(false)]
  if (closing.length <= 1 || opening.length <= 1) return null
  const excessS = (median(closing.map((l) => l.valueS)) ?? 0) - (median(opening.map((l) => l.valueS)) ?? 0)
  const uS = Math.hypot(meanU(closing), meanU(opening))
  return excessS > criteria.meterDelayS && excessS > criteria.meterDelaySds * uS ? { excessS, uS } : null
}

function meanU(lags: readonly { uS: number }[]): number {
  return Math.sqrt(lags.reduce((sum, l) => sum + l.uS ** 2, 0)) / lags.length
}

/** Contact stamp less kick stamp of one trip: the middle of the one interval less the mean of the other. */
function kickLag({ loS, hiS, surface }: TripInput): { valueS: number; uS: number } {
  const best = Math.max(...surface.cells.flatMap((c) => c.logLiks))
  let [sum, sumS, sumSS] = [0, 0, 0]
  for (const { tS, widthS, logLiks } of surface.cells) {
    const weight = widthS * logLiks.reduce((total, l) => total + Math.exp(l - best), 0)
    const fromS = tS - loS
    sum += weight
    sumS += weight * fromS
    sumSS += weight * fromS * fromS
  }
  const mean = sumS / sum
  const variance = Math.max(0, sumSS / sum - mean * mean) + (hiS - loS) ** 2 / 12
  return { valueS: (hiS - loS) / 2 - mean, uS: Math.sqrt(variance) }
}
