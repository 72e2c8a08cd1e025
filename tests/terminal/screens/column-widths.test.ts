// Columns of a list: who gets what where there is too little room for all.
import { describe, expect, test } from 'vitest'
import { columnWidths } from '../../../src/terminal/screens/column-widths.ts'

describe('the columns of a list', () => {
  test('get what they need where there is room, and lose it in the order given where there is not', () => {
    expect(columnWidths([6, 20, 8], 38, [1])).toEqual([6, 20, 8])
    expect(columnWidths([6, 20, 8], 30, [1])).toEqual([6, 12, 8])
    expect(columnWidths([6, 20, 8], 24, [2])).toEqual([6, 16, 0])
  })
  test('go, with their gap, before they are too narrow to tell anything', () => {
    expect(columnWidths([6, 20, 8], 20, [1])).toEqual([6, 0, 8])
    expect(columnWidths([6, 20, 8], 9)).toEqual([6, 0, 0])
  })
  test('leave one at the least, however little room there is', () => {
    expect(columnWidths([6, 20], 3)).toEqual([3, 0])
    expect(columnWidths([6], 0)).toEqual([1])
    expect(columnWidths([], 10)).toEqual([])
  })
})
