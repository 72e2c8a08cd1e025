// Readings in order into whether they are missing for a while.
import { criteria } from '../criteria.table.ts'

/** So long without a reading of a stream is a gap, µs. `intervalS`: its median interval. */
export const gapUs = (intervalS: number): number => Math.max(criteria.gapIntervals * intervalS, criteria.gapS) * 1e6

/** Whether neighbours among the times lie further apart than `longestUs`. */
export const hasSilence = (timesUs: readonly number[], longestUs: number): boolean =>
  timesUs.some((tUs, i) => tUs - (timesUs[i - 1] ?? tUs) > longestUs)
