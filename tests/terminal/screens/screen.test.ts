// The one way in which keys are run: text, key table, reasons, help, and what would be lost.
import { describe, expect, test } from 'vitest'
import { footOf, helpRegion } from '../../../src/terminal/screens/frame.ts'
import { framed, type Screen } from '../../../src/terminal/screens/screen.ts'
import { screenKeys } from '../../../src/terminal/screens/screen-keys.ts'
import { bareText } from '../../../src/terminal/text/line.ts'
import { pasteInto, pressAll } from './press.ts'

type State = { count: number; text: string; typing: boolean }
const zero: State = { count: 0, text: '', typing: false }
const counter: Screen<State, string> = {
  keys: [
    {
      keys: ['+'],
      shown: '+',
      short: 'more',
      does: 'One more.',
      act: (s) => ({ state: { ...s, count: s.count + 1 }, said: 'counted' }),
    },
    {
      ...{ keys: ['-'], shown: '-', short: 'less', does: 'One less.' },
      blocked: ({ count }) => (count > 0 ? null : 'there is none'),
      act: (s) => ({ state: { ...s, count: s.count - 1 } }),
    },
    {
      keys: ['escape'],
      shown: 'Esc',
      short: 'back',
      does: 'Go back.',
      leaves: true,
      act: (state) => ({ state, ask: 'back' }),
    },
  ],
  type: (state, text) => (state.typing ? { state: { ...state, text: state.text + text } } : null),
  unsaved: ({ count }) => (count > 1 ? 'The count is not kept.' : null),
  view: () => [],
}

describe('a key', () => {
  test('runs its row of the table and says what it did', () => {
    expect(pressAll(counter, zero, '+', '+')).toMatchObject({ own: { count: 2 }, said: 'counted', asked: [] })
  })
  test('that is blocked says why and changes nothing', () => {
    expect(pressAll(counter, zero, '-')).toMatchObject({ own: zero, said: '- less: not now, there is none.' })
  })
  test('that no row knows does nothing, and takes away what was said', () => {
    expect(pressAll(counter, zero, '+', 'x')).toMatchObject({ own: { count: 1 }, said: null })
  })
  test('is text where text is taken, ? too', () => {
    expect(pressAll(counter, { ...zero, typing: true }, '+', '?').own).toMatchObject({ count: 0, text: '+?' })
  })
})

describe('leaving', () => {
  test('asks at once where nothing is lost', () => {
    expect(pressAll(counter, zero, 'escape').asked).toEqual(['back'])
    expect(pressAll(counter, zero, 'ctrl-c').left).toBe(true)
  })
  test('says first what is lost; the same key once more drops it, another key forgets the warning', () => {
    const warned = pressAll(counter, { ...zero, count: 2 }, 'escape')
    expect(warned).toMatchObject({ asked: [], left: false, said: 'The count is not kept. Esc once more drops that.' })
    expect(pressAll(counter, { ...zero, count: 2 }, 'escape', 'escape').asked).toEqual(['back'])
    expect(pressAll(counter, { ...zero, count: 2 }, 'ctrl-c', 'x', 'ctrl-c').left).toBe(false)
    expect(pressAll(counter, { ...zero, count: 2 }, 'ctrl-c', 'ctrl-c').left).toBe(true)
  })
})

describe('the list of keys', () => {
  test('opens with ?, or with Ctrl-G where ? is text, and any key closes it without being run', () => {
    expect(pressAll(counter, zero, '?').framed.help).toBe(true)
    expect(pressAll(counter, { ...zero, typing: true }, 'ctrl-g').framed.help).toBe(true)
    expect(pressAll(counter, zero, '?', '+').framed).toMatchObject({ help: false, own: zero })
  })
  test('is made from the table, with the reason of a blocked key', () => {
    const text = helpRegion(counter, zero, { columns: 80, rows: 24 })[0]!.lines.map(bareText).join('\n')
    for (const part of ['One more.', 'One less. Not now: there is none.', 'Go back.', 'Leave the program.'])
      expect(text).toContain(part)
  })
  test('has a row for each key on a small screen, cut where it is too long', () => {
    const rows = helpRegion(counter, zero, { columns: 40, rows: 12 })[0]!.lines.map(bareText)
    expect(rows.slice(1, 6).map((row) => row.split(' ')[1])).toEqual(['+', '-', 'Esc', '?', 'Ctrl-C'])
    expect(rows[2]).toMatch(/One less\. .*…$/)
  })
  test('is mentioned at the foot with the keys that work; blocked ones stand in brackets, or go where there is no room', () => {
    expect(bareText(footOf(counter, framed(zero), 80))).toBe(' + more  (- less)  Esc back  ? keys ')
    expect(bareText(footOf(counter, framed(zero), 30))).toBe(' + more  Esc back  ? keys ')
    expect(bareText(footOf(counter, framed({ ...zero, typing: true }), 80))).toContain(' Ctrl-G keys ')
  })
})

test('what was said keeps the end of a path that is too long, also one with spaces', () => {
  const foot = (said: string) => bareText(footOf(counter, { ...framed(zero), said }, 40))
  expect(foot('Saved: /home/a/parts/dp62.json')).toBe(' Saved: /home/a/parts/dp62.json')
  expect(foot('Saved: /home/someone/with a name/parts/dp62.json')).toBe(' Saved: …one/with a name/parts/dp62.json')
  expect(foot('Saved: C:\\Users\\someone\\config\\parts\\dp62.json')).toMatch(/^ Saved: ….*\\parts\\dp62\.json$/)
})

test('a paste is text or nothing, never keys', () => {
  expect(pasteInto(counter, { ...zero, typing: true }, '++').state.own.text).toBe('++')
  expect(pasteInto(counter, zero, '++').state).toMatchObject({ own: zero, said: 'Nothing here takes pasted text.' })
})

describe('what the terminal hands over', () => {
  test('gives arrows, Tab and control letters their names', () => {
    expect(screenKeys('', { upArrow: true })).toEqual(['up'])
    expect(screenKeys('', { tab: true, shift: true })).toEqual(['shift-tab'])
    expect(screenKeys('', { delete: true })).toEqual(['delete'])
    expect(screenKeys('', { backspace: true })).toEqual(['backspace'])
    expect(screenKeys('s', { ctrl: true })).toEqual(['ctrl-s'])
    expect(screenKeys('[A', {})).toEqual([])
  })
  test('in one piece gives all its keys in order: a scanner types its Enter with the digits', () => {
    expect(screenKeys('A1047\r', {})).toEqual(['A', '1', '0', '4', '7', 'enter'])
    expect(screenKeys('\x0eab\t1\x7f', {})).toEqual(['ctrl-n', 'a', 'b', 'tab', '1', 'backspace'])
  })
})
