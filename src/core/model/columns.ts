// Rows of numbers into columns that grow and that many states share: a row more costs no object, yet every older state keeps the rows it had.

/** A row as an object, for whoever looks at a few of them. */
export type Row<Name extends string> = Record<Name, number>

/** Rows of the first columns; full columns give way to ones twice as long. */
const firstRows = 256

/** The first `length` rows of the columns; what lies behind them belongs to a later state, or is nothing yet. */
export class Columns<Name extends string> {
  readonly length: number
  /** Read as `of.NAME[row]`. */
  readonly of: Readonly<Record<Name, Float64Array>>
  /** How many rows the newest state has that shares these columns. */
  private readonly newest: { length: number }

  constructor(of: Readonly<Record<Name, Float64Array>>, length: number, newest = { length }) {
    this.of = of
    this.length = length
    this.newest = newest
  }

  at(row: number): Row<Name> | undefined {
    const place = row < 0 ? row + this.length : row
    return place >= 0 && place < this.length ? this.rowAt(place) : undefined
  }

  /** The rows from `from` on that lie before `to`, as far as there are such. */
  slice(from = 0, to = this.length): Row<Name>[] {
    const rows: Row<Name>[] = []
    for (let place = Math.max(0, from); place < Math.min(to, this.length); place++) rows.push(this.rowAt(place))
    return rows
  }

  /** The same as columns that end with these rows: nothing is copied. */
  part(from = 0, to = this.length): Columns<Name> {
    const first = Math.min(Math.max(0, from), this.length)
    const end = Math.max(first, Math.min(to, this.length))
    return new Columns(
      mapped(this.of, (column) => column.subarray(first, end)),
      end - first,
    )
  }

  /** Those of the rows that are to be kept: these very columns where it is all of them. */
  where(isKept: (row: number) => boolean): Columns<Name> {
    let row = 0
    while (row < this.length && isKept(row)) row++
    if (row === this.length) return this
    const kept = Array.from({ length: row }, (_, before) => before)
    for (row++; row < this.length; row++) if (isKept(row)) kept.push(row)
    return new Columns(
      mapped(this.of, (column) => columnOf(kept.length, (i) => column[kept[i]!]!)),
      kept.length,
    )
  }

  /** These rows and one more: in the same columns where this is the newest state of them and they have room, else in longer ones. */
  plus(row: Row<Name>): Columns<Name> {
    const { length, of } = this
    const hasRoom = this.newest.length === length && length < capacityOf(of)
    const wide = hasRoom ? of : mapped(of, (column) => lengthened(column, length))
    for (const name in wide) wide[name][length] = row[name]
    const newest = hasRoom ? this.newest : { length }
    newest.length = length + 1
    return new Columns(wide, length + 1, newest)
  }

  private rowAt(place: number): Row<Name> {
    const row = {} as Row<Name>
    for (const name in this.of) row[name] = this.of[name][place]!
    return row
  }
}

/** No rows yet, of columns with these names. */
export function noRows<Name extends string>(names: readonly Name[]): Columns<Name> {
  return columnsOf(names, [])
}

/** The rows of a list as columns; null becomes NaN. */
export function columnsOf<Name extends string>(
  names: readonly Name[],
  rows: readonly Readonly<Record<Name, number | null>>[],
): Columns<Name> {
  const column = (name: Name) => columnOf(rows.length, (row) => rows[row]![name] ?? Number.NaN)
  return new Columns(Object.fromEntries(names.map((name) => [name, column(name)])) as Columns<Name>['of'], rows.length)
}

/** Whatever comes in order of time: rows, or objects of their own. */
export type Timed = readonly { tUs: number }[] | Columns<'tUs'>

/** Their times, µs. */
export function timesOf(samples: Timed): Float64Array {
  if (samples instanceof Columns) return samples.of.tUs.subarray(0, samples.length)
  return columnOf(samples.length, (i) => samples[i]!.tUs)
}

/** A column by its values. A loop of its own: the column's own ways of going through it take several times as long. */
export function columnOf(length: number, valueAt: (row: number) => number): Float64Array {
  const column = new Float64Array(length)
  for (let row = 0; row < length; row++) column[row] = valueAt(row)
  return column
}

function mapped<Name extends string>(
  of: Readonly<Record<Name, Float64Array>>,
  change: (column: Float64Array) => Float64Array,
): Record<Name, Float64Array> {
  const out = {} as Record<Name, Float64Array>
  for (const name in of) out[name] = change(of[name])
  return out
}

function capacityOf(of: Readonly<Record<string, Float64Array>>): number {
  for (const name in of) return of[name]!.length
  return 0
}

function lengthened(column: Float64Array, length: number): Float64Array {
  const longer = new Float64Array(Math.max(firstRows, 2 * length))
  longer.set(column.subarray(0, length))
  return longer
}
