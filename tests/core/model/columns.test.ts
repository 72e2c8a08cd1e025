import { expect, test } from 'vitest'
import { type Columns, columnsOf, noRows } from '../../../src/core/model/columns.ts'

type Rows = Columns<'tUs' | 'rawPa'>

/** `count` rows behind those of `rows`, `from` telling them from others. */
function grown(rows: Rows, count: number, from = 0): Rows {
  let all = rows
  for (let i = 0; i < count; i++) all = all.plus({ tUs: all.length, rawPa: from + i })
  return all
}

const pressuresOf = (rows: Rows) => rows.slice().map(({ rawPa }) => rawPa)
const none = noRows(['tUs', 'rawPa'])

test('An older state keeps its rows while newer ones grow on, past any size that its columns have.', () => {
  const early = grown(none, 200)
  const late = grown(early, 2000, 200)
  expect(pressuresOf(early)).toEqual(Array.from({ length: 200 }, (_, i) => i))
  expect(pressuresOf(late)).toEqual(Array.from({ length: 2200 }, (_, i) => i))
})

test('Two states that grow out of the same one do not see the rows of each other.', () => {
  const early = grown(none, 5)
  const one = grown(early, 3, 100)
  const other = grown(early, 2, 200)
  expect(pressuresOf(one)).toEqual([0, 1, 2, 3, 4, 100, 101, 102])
  expect(pressuresOf(other)).toEqual([0, 1, 2, 3, 4, 200, 201])
})

test('A row outside of them is none, one before the first counts from the end, and a stretch ends with them.', () => {
  const rows = grown(none, 4)
  expect([rows.at(4), rows.at(-5), none.at(-1)]).toEqual([undefined, undefined, undefined])
  expect(rows.at(-1)).toEqual({ tUs: 3, rawPa: 3 })
  expect(pressuresOf(rows.part(-2, 2))).toEqual([0, 1])
  expect(pressuresOf(rows.part(2, 9))).toEqual([2, 3])
  expect([rows.part(3, 1).length, rows.part(9).length, rows.slice(-1, 0).length]).toEqual([0, 0, 0])
  expect([...rows.part(1, 3).of.rawPa]).toEqual([1, 2])
})

test('Rows that are left out are gone from every column, and where none is the columns are the same.', () => {
  const rows = grown(none, 6, 10)
  expect(rows.where((row) => row % 2 === 1).slice()).toEqual([1, 3, 5].map((tUs) => ({ tUs, rawPa: 10 + tUs })))
  expect(rows.where(() => true)).toBe(rows)
})

test('A null of a list becomes NaN, so that no number is taken for it.', () => {
  expect(columnsOf(['askedUs'], [{ askedUs: null }, { askedUs: 7 }]).slice()).toEqual([
    { askedUs: Number.NaN },
    { askedUs: 7 },
  ])
})
