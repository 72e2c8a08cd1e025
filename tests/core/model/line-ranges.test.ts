import { expect, test } from 'vitest'
import { addLine, firstLines, type LineRanges, noLines, rangesOf } from '../../../src/core/model/line-ranges.ts'

const rangesFrom = (...lines: number[]): LineRanges => lines.reduce(addLine, noLines)

test('lines that follow each other make one range, each gap begins another', () => {
  expect(rangesOf(rangesFrom(3, 4, 5, 9, 11, 12))).toEqual([
    { from: 3, to: 5 },
    { from: 9, to: 9 },
    { from: 11, to: 12 },
  ])
  expect(rangesOf(noLines)).toEqual([])
})

test('what is added to a list changes no older one, whichever of them is added to', () => {
  const before = rangesFrom(3, 4, 9)
  const one = addLine(before, 10)
  const other = addLine(addLine(before, 12), 13)
  expect(rangesOf(before)).toEqual([
    { from: 3, to: 4 },
    { from: 9, to: 9 },
  ])
  expect(rangesOf(one).at(-1)).toEqual({ from: 9, to: 10 })
  expect(rangesOf(addLine(one, 20)).map(({ from }) => from)).toEqual([3, 9, 20])
  expect(rangesOf(other).map(({ from }) => from)).toEqual([3, 9, 12])
  expect([before.count, one.count, other.count]).toEqual([3, 4, 5])
})

test('a million lines in a row take the room of one range', () => {
  let ranges = noLines
  for (let line = 4; line < 1_000_004; line++) ranges = addLine(ranges, line)
  expect(rangesOf(ranges)).toEqual([{ from: 4, to: 1_000_003 }])
  expect(ranges.count).toBe(1_000_000)
})

test('they are told one by one up to as many as are asked for', () => {
  expect(firstLines(rangesFrom(3, 4, 9, 10, 11), 4)).toEqual([3, 4, 9, 10])
  expect(firstLines(rangesFrom(3, 4), 100)).toEqual([3, 4])
})
