// Screens told in lines: whole when they come, then only what is new, and nothing twice.
import { expect, test } from 'vitest'
import { createTeller } from '../../../src/terminal/screens/calm-host.ts'
import { createPickList, pickState } from '../../../src/terminal/screens/pick-list.ts'
import { framed, pressScreen } from '../../../src/terminal/screens/screen.ts'
import { line } from '../../../src/terminal/text/line.ts'

const size = { columns: 100, rows: 24 }
const rows = [
  { value: 1, cells: ['✗ FAIL', 'DP-62'], about: ['The first one.'] },
  { value: 2, cells: ['✓ PASS', 'DP-63'], about: ['The second one.'] },
]
const list = createPickList<number>({
  ...{ title: 'Recordings', empty: '', search: false },
  enter: { short: 'open', does: 'Open.' },
  back: { short: 'back', does: 'Back.' },
})

function teller() {
  const told: string[] = []
  const tell = createTeller((text) => told.push(text))
  return { tell, take: () => told.splice(0) }
}

test('a list is told whole once; a key tells the row that it is for and what is known of it', () => {
  const { tell, take } = teller()
  let state = framed(pickState(rows))
  const view = () => list.view(state.own, size, line(' Enter open'))
  tell(view(), null, false)
  expect(take()).toEqual(['Recordings', 'Here: FAIL  DP-62', 'PASS  DP-63', 'The first one.', 'Enter open'])
  tell(view(), null, false)
  expect(take()).toEqual([])
  state = pressScreen(list, state, 'down').state
  tell(view(), null, true)
  expect(take()).toEqual(['Here: PASS  DP-63', 'The second one.'])
})

test('what changes by itself is told only of the row that keys are for', () => {
  const { tell, take } = teller()
  const view = (cells: string[][]) =>
    list.view(pickState(rows.map((row, i) => ({ ...row, cells: cells[i]! }))), size, line(''))
  tell(view([['…'], ['…']]), null, false)
  take()
  tell(view([['…'], ['✓ PASS']]), null, false)
  expect(take()).toEqual([])
  tell(view([['✗ FAIL'], ['✓ PASS']]), null, false)
  expect(take()).toEqual(['Here: FAIL'])
})

test('what is said is told whole and once, and the keys are not told again behind it', () => {
  const { tell, take } = teller()
  const view = list.view(pickState(rows), size, line(' Enter open'))
  tell(view, null, false)
  take()
  const long = `Saved: ${'a long way to '.repeat(20)}the file.`
  tell(view, long, true)
  tell(view, long, false)
  tell(view, null, false)
  expect(take()).toEqual([long])
})
