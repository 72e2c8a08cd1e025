// A list to choose from: search, cursor, what it asks, and how it looks.
import { describe, expect, test } from 'vitest'
import { createPickList, matching, pickState, withRows } from '../../../src/terminal/screens/pick-list.ts'
import { pasteInto, pressAll, rowsOf, typed } from './press.ts'

const spec = {
  title: 'Parts',
  empty: 'No parts yet.',
  enter: { short: 'test it', does: 'Test it.' },
  back: { short: 'back', does: 'Go back.' },
  search: true,
  own: [{ name: 'new', onRow: false, keys: ['ctrl-n'], shown: 'Ctrl-N', short: 'new', does: 'Make one.' }],
}
const list = createPickList<number>(spec)
const rows = [
  { value: 1, cells: ['dp62', 'DP-62', '0.25 inH2O'], about: ['make 0.22 to 0.28 inH2O'] },
  { value: 2, cells: ['dp70', 'DP-70', '0.4 inH2O'] },
  { value: 3, cells: ['blockage', 'HL-B', '0.25 inH2O'], blocked: 'its file is damaged' },
]

describe('a list', () => {
  test('narrows down as one types, in any case and by every word, and asks with the row that is left', () => {
    expect(matching(pressAll(list, pickState(rows), ...typed('DP 0.4')).own).map(({ value }) => value)).toEqual([2])
    expect(pressAll(list, pickState(rows), ...typed('dp70'), 'enter').asked).toEqual([{ by: 'enter', value: 2 }])
    expect(matching(pasteInto(list, pickState(rows), 'b?').state.own)).toEqual([])
  })
  test('a name that is searched for comes before what only tells of it', () => {
    const told = [
      { value: 7, cells: ['dead-throw', 'a network'] },
      ...rows,
      { value: 8, cells: ['two-manometers', ''] },
    ]
    expect(matching({ rows: told, search: 'two' }).map(({ value }) => value)).toEqual([8, 7])
  })
  test('is searched for what is typed where the cursor of the search is', () => {
    const { own } = pressAll(list, pickState(rows), ...typed('p62'), 'ctrl-a', 'd')
    expect(own).toMatchObject({ search: 'dp62', cursor: 1 })
    expect(pressAll(list, own, 'ctrl-k').own).toMatchObject({ search: 'd', cursor: null })
    // Home is the list's; the cursor of the search alone changes no row.
    const second = pressAll(list, pickState(rows), 'd', 'down')
    expect(pressAll(list, second.own, 'left').own.at).toBe(1)
    expect(pressAll(list, second.own, 'home').own).toMatchObject({ at: 0, cursor: null })
  })
  test('moves its cursor within its rows', () => {
    expect(pressAll(list, pickState(rows), 'up').own.at).toBe(0)
    expect(pressAll(list, pickState(rows), 'down', 'page-down').own.at).toBe(2)
    expect(pressAll(list, pickState([]), 'down', 'end').own.at).toBe(0)
  })
  test('says why a row cannot be chosen, or that there is none', () => {
    expect(pressAll(list, pickState(rows), 'end', 'enter')).toMatchObject({
      asked: [],
      said: 'Enter test it: not now, its file is damaged.',
    })
    expect(pressAll(list, pickState([]), 'enter').said).toContain('choose a row first')
    expect(pressAll(list, pickState([]), 'ctrl-n').asked).toEqual([{ by: 'new', value: null }])
  })
  test('takes the search away before it goes back', () => {
    const once = pressAll(list, pickState(rows), 'd', 'escape')
    expect(once).toMatchObject({ own: { search: '' }, asked: [] })
    expect(pressAll(list, once.own, 'escape').asked).toEqual([{ by: 'back', value: 1 }])
    expect(pressAll(list, pickState(rows), 'd', 'q', 'backspace').own.search).toBe('d')
  })
  test('that is the first of all is left by q, and by Esc not', () => {
    const first = createPickList<number>({ ...spec, search: false, root: true })
    expect(pressAll(first, pickState(rows), 'escape').asked).toEqual([])
    expect(pressAll(first, pickState(rows), 'q').asked).toEqual([{ by: 'back', value: 1 }])
    expect(rowsOf(first, pickState(rows)).at(-1)).toContain('q back')
  })
  test('says what nothing matches and how to see all again; Ctrl-U does that at once', () => {
    const none = pressAll(list, pickState(rows), ...typed('zz'))
    expect(rowsOf(list, none.own)[3]).toBe(' Nothing matches "zz"; Esc or Ctrl-U clears the search.')
    expect(pressAll(list, none.own, 'ctrl-u')).toMatchObject({ own: { search: '', at: 0 }, asked: [] })
    expect(rowsOf(list, pickState([]))[3]).toBe(' No parts yet.')
  })
  test('invites to search what is there, and nothing where nothing is', () => {
    expect(rowsOf(list, pickState(rows))[2]).toBe(' Search:    type to search 3 rows')
    expect(rowsOf(list, pickState(rows.slice(0, 1)))[2]).toBe(' Search:    type to search one row')
    expect(rowsOf(list, pickState([]))[2]).toBe(' Search:')
    expect(rowsOf(list, pressAll(list, pickState(rows), 'd').own)[2]).toBe(' Search: d   2 of 3')
  })
  test('keeps its cursor on the row it was on when the rows change', () => {
    const at = { ...pickState(rows), at: 1 }
    const more = [{ value: 9, cells: ['new'] }, ...rows]
    expect(withRows(at, more, (a, b) => a === b).at).toBe(2)
    expect(withRows(at, [], (a, b) => a === b).at).toBe(0)
  })
  test('shows its rows in columns, what is known of the chosen one below, and its keys', () => {
    expect(rowsOf(list, pickState(rows)).map((row) => row.replace(/^ Search: .*/, ' Search:'))).toEqual([
      ' Parts',
      '',
      ' Search:',
      ' ► dp62      DP-62  0.25 inH2O',
      '   dp70      DP-70  0.4 inH2O',
      '   blockage  HL-B   0.25 inH2O',
      ...Array.from({ length: 14 }, () => ''),
      ' make 0.22 to 0.28 inH2O',
      '',
      ' Enter test it  Ctrl-N new  Esc back  ? keys',
    ])
  })
  test('lets the columns give way that tell least, and a row with fewer cells run on', () => {
    const narrow = createPickList<number>({ ...spec, giveWay: [1, 3] })
    const told = [
      { value: 1, cells: ['✓ PASS', 'a model with a long name', 'A1047', '2027-03-14 09:15Z', 'simulated'] },
      { value: 2, cells: ['? UNDECIDED', 'HT', 'A1048', '2027-03-14 09:31Z', ''] },
      { value: 3, cells: ['…', '20270314-093100Z-A1049-abcdef.run'] },
    ]
    const at = (columns: number) => rowsOf(narrow, pickState(told), columns, 24).slice(3, 6)
    expect(at(100)).toEqual([
      ' ► ✓ PASS       a model with a long name  A1047  2027-03-14 09:15Z  simulated',
      '   ? UNDECIDED  HT                        A1048  2027-03-14 09:31Z',
      '   …            20270314-093100Z-A1049-abcdef.run',
    ])
    expect(at(70)).toEqual([
      ' ► ✓ PASS       a model with a l…  A1047  2027-03-14 09:15Z  simulated',
      '   ? UNDECIDED  HT                 A1048  2027-03-14 09:31Z',
      '   …            20270314-093100Z-A1049-abcdef.run',
    ])
    expect(rowsOf(narrow, pickState(told), 50, 14).slice(2, 5)).toEqual([
      ' ► ✓ PASS       A1047  2027-03-14 09:1…  simulated',
      '   ? UNDECIDED  A1048  2027-03-14 09:3…',
      '   …            20270314-093100Z-A1049-abcdef.run',
    ])
  })
  test('keeps a gap between its rows and what is known of the chosen one, where that stands beside them', () => {
    const long = [{ value: 1, cells: ['x'.repeat(200)], about: ['a paragraph'] }]
    expect(rowsOf(list, pickState(long), 120, 24)[3]).toMatch(/x… {2}a paragraph$/)
  })
  test('scrolls with its cursor, keeps within every size, and cleans hostile text', () => {
    const many = Array.from({ length: 200 }, (_, i) => ({ value: i, cells: [`row ${i}`, '\x1b[2Jevil\u202e'] }))
    for (const [columns, height] of [
      [80, 24],
      [140, 45],
      [50, 12],
      [20, 5],
      [8, 2],
    ] as const) {
      const shown = rowsOf(list, { ...pickState(many), at: 150 }, columns, height)
      expect(shown.length).toBeLessThanOrEqual(height - 1)
      for (const row of shown) expect(row.length).toBeLessThanOrEqual(columns)
      for (const char of ['\x1b', '\u202e']) expect(shown.join('')).not.toContain(char)
      if (height > 4) expect(shown.join('\n')).toContain('► row 150')
    }
  })
})
