// A time into the place of the first sample at or after it.

/** Index of the first of `samples` (in order) with `tUs` at or after the given one; their number where there is none. */
export function indexAt(samples: readonly { tUs: number }[], tUs: number): number {
  let low = 0
  let high = samples.length
  while (low < high) {
    const mid = (low + high) >> 1
    if (samples[mid]!.tUs < tUs) low = mid + 1
    else high = mid
  }
  return low
}
