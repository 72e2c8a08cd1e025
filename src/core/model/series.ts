// An append-only list that many states share: appending costs one push, yet every older state keeps the list it had.

/** The first `length` entries of `items` are the list; later ones belong to a later state. */
export type Series<T> = { readonly items: readonly T[]; readonly length: number }

export function emptySeries<T>(): Series<T> {
  return { items: [], length: 0 }
}

/** `series` with `more` at its end. Shares storage where `series` is the newest of its line, copies where it is not. */
export function append<T>(series: Series<T>, more: readonly T[]): Series<T> {
  if (more.length === 0) return series
  const items = (series.items.length === series.length ? series.items : series.items.slice(0, series.length)) as T[]
  for (const item of more) items.push(item)
  return { items, length: items.length }
}

/** The list as an array of its own. */
export function toArray<T>(series: Series<T>): T[] {
  return series.items.slice(0, series.length)
}

/** The last entry; undefined for an empty list. */
export function last<T>(series: Series<T>): T | undefined {
  return series.items[series.length - 1]
}
