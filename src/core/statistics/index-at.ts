// A time into the place of the first sample at or after it.
import { Columns, type Timed } from '../model/columns.ts'

/** Index of the first of `samples` (in order) with `tUs` at or after the given one; their number where there is none. */
export function indexAt(samples: Timed, tUs: number): number {
  if (samples instanceof Columns) return firstPlace(samples.length, (i) => samples.of.tUs[i]! >= tUs)
  return firstPlace(samples.length, (i) => samples[i]!.tUs >= tUs)
}

/** The first of so many places from which on all are so. */
function firstPlace(length: number, isFrom: (place: number) => boolean): number {
  let low = 0
  let high = length
  while (low < high) {
    const mid = (low + high) >> 1
    if (isFrom(mid)) high = mid
    else low = mid + 1
  }
  return low
}
