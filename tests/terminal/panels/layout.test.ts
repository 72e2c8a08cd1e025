// The layout against drawings of the screen (two cells a letter; the number says for how many rows), and its promises at every size.
import { describe, expect, test } from 'vitest'
import { layoutOf } from '../../../src/terminal/panels/layout.ts'
import { drawLayout } from '../draw-layout.ts'

describe('layoutOf', () => {
  test('80 × 24 shows the essentials: steps, what to do, pressure, contact, rate, trace, numbers, cycles, links, keys', () => {
    expect(drawLayout({ columns: 80, rows: 24 })).toEqual([
      ' 1 hhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhh',
      ' 1 ssssssssssssssssssssssssssssssssssssssss',
      ' 3 nnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnn',
      ' 6 .PPPPPPPPPPPPPPPPPPPPPCCCCCCCCCCCCCCCCCC',
      ' 2 rrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrr',
      ' 4 tttttttttttttttttttt.eeeeeeeeeeeeeeeeeee',
      ' 4 tttttttttttttttttttt.yyyyyyyyyyyyyyyyyyy',
      ' 1 llllllllllllllllllllllllllllllllllllllll',
      ' 1 kkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkk',
    ])
  })

  test('140 × 45 shows everything: bands, the loop and the findings too', () => {
    expect(drawLayout({ columns: 140, rows: 45 })).toEqual([
      ' 1 hhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhh',
      ' 1 ssssssssssssssssssssssssssssssssssssssssssssssssssssssssssssssssssssss',
      ' 5 nnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnn',
      ' 9 .PPPPPPPPPPPPPPPPPPPPPPPPPPPPPPPPPPPPPCCCCCCCCCCCCCCCCCCCCCCCCCCCCCCCC',
      ' 3 rrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrrr',
      ' 4 tttttttttttttttttttttttttttttttt.eeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeee',
      ' 4 tttttttttttttttttttttttttttttttt.bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb',
      ' 9 tttttttttttttttttttttttttttttttt.yyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyy',
      ' 2 oooooooooooooooooooooooooooooooo.yyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyyy',
      ' 4 oooooooooooooooooooooooooooooooo.fffffffffffffffffffffffffffffffffffff',
      ' 1 llllllllllllllllllllllllllllllllllllllllllllllllllllllllllllllllllllll',
      ' 1 kkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkk',
    ])
  })

  test('60 × 16 is the smallest with panels: the numbers take the room of the trace', () => {
    expect(drawLayout({ columns: 60, rows: 16 })).toEqual([
      ' 1 hhhhhhhhhhhhhhhhhhhhhhhhhhhhhh',
      ' 2 nnnnnnnnnnnnnnnnnnnnnnnnnnnnnn',
      ' 4 .PPPPPPPPPPPPPPP.CCCCCCCCCCCCC',
      ' 2 rrrrrrrrrrrrrrrrrrrrrrrrrrrrrr',
      ' 4 .eeeeeeeeeeeeeeeeeeeeeeeeeeeee',
      ' 1 llllllllllllllllllllllllllllll',
      ' 1 kkkkkkkkkkkkkkkkkkkkkkkkkkkkkk',
    ])
  })

  test('a finding takes one row, from the trace at 80 × 24 and from a heading at 60 × 16', () => {
    for (const [size, place] of [
      [{ columns: 80, rows: 24 }, 'trace'],
      [{ columns: 60, rows: 16 }, 'estimates'],
    ] as const) {
      const [none, one] = [layoutOf(size).places, layoutOf(size, true).places]
      expect(none.findings).toBeUndefined()
      expect(one.findings).toMatchObject({ width: size.columns, height: 1 })
      expect(one[place]!.height).toBe(none[place]!.height - 1)
    }
  })

  test('50 × 14 is left to plain lines', () => {
    expect(layoutOf({ columns: 50, rows: 14 })).toEqual({
      kind: 'lines',
      all: { x: 0, y: 0, width: 50, height: 13 },
      scale: 1,
      places: {},
    })
    expect(drawLayout({ columns: 50, rows: 14 })).toEqual(['13 .........................'])
  })

  test('at every size from 1 × 1 to 200 × 60 no two places overlap, none is empty and none leaves the screen', () => {
    const wrong: string[] = []
    for (let columns = 1; columns <= 200; columns += columns < 150 ? 1 : 7)
      for (let rows = 1; rows <= 60; rows++) {
        const { all, places } = layoutOf({ columns, rows }, columns % 2 === 0)
        const taken = new Uint8Array(all.width * all.height)
        for (const [place, r] of Object.entries(places)) {
          const inside = r.x >= 0 && r.y >= 0 && r.x + r.width <= all.width && r.y + r.height <= all.height
          if (!inside || r.width < 1 || r.height < 1) wrong.push(`${columns} × ${rows}: ${place} outside or empty`)
          for (let y = r.y; y < r.y + r.height; y++)
            for (let x = r.x; x < r.x + r.width; x++)
              if (++taken[y * all.width + x]! > 1) wrong.push(`${columns} × ${rows}: ${place} overlaps`)
        }
        if (all.height > Math.max(1, rows - 1)) wrong.push(`${columns} × ${rows}: the last row is not free`)
      }
    expect(wrong).toEqual([])
  })

  test('a size that is no number gives one cell instead of failing', () => {
    expect(layoutOf({ columns: Number.NaN, rows: 0 }).all).toEqual({ x: 0, y: 0, width: 1, height: 1 })
  })
})
