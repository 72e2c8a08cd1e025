// The rates up to now into the word for the hand's pace: one that was too fast or too slow stays so until it is well inside the band.
import { criteria } from '../criteria.table.ts'
import type { Guide } from './guidance.ts'
import type { RateBand } from './instruments.ts'

export type Pace = NonNullable<Guide['rate']>['pace']

/** The word for `rates`, Pa/s, oldest first; `steadyPaPerS`: over the longer window that tells a hand that is still. */
export function paceOf(rates: readonly number[], steadyPaPerS: number, { lowPaPerS, mostPaPerS }: RateBand): Pace {
  if (steadyPaPerS < criteria.stillPaceShare * lowPaPerS) return 'still'
  let pace: Pace = 'good'
  for (const rate of rates.map(Math.abs)) {
    const most: number = pace === 'too-fast' ? criteria.paceBackShare * mostPaPerS : mostPaPerS
    const least: number = pace === 'too-slow' ? lowPaPerS / criteria.paceBackShare : lowPaPerS
    pace = rate > most ? 'too-fast' : rate < least ? 'too-slow' : 'good'
  }
  // A kick is a moment of another pace: only what stays so is too slow.
  return pace === 'too-slow' && steadyPaPerS >= lowPaPerS / criteria.paceBackShare ? 'good' : pace
}
