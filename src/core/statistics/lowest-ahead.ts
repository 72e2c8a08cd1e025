// A row of values into the lowest of each and those behind it, within a reach.

/** For each value the lowest of it and those behind it, `reach` in all. */
export function lowestAhead(values: Float64Array, reach: number): Float64Array {
  const out = new Float64Array(values.length)
  // Places that may still be the lowest of some stretch: the lowest of all from `first` on, rising values after it.
  const candidates: number[] = []
  let first = 0
  for (let i = values.length - 1; i >= 0; i--) {
    while (candidates.length > first && values[candidates.at(-1)!]! >= values[i]!) candidates.pop()
    candidates.push(i)
    while (candidates[first]! >= i + reach) first++
    out[i] = values[candidates[first]!]!
  }
  return out
}
