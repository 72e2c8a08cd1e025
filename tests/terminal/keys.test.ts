import { describe, expect, test } from 'vitest'
import { helpLines } from '../../src/terminal/help-lines.ts'
import { keyLine } from '../../src/terminal/key-line.ts'
import { findKey, keyNames, questionKeys, testKeys } from '../../src/terminal/keys.ts'
import { bareText } from '../../src/terminal/line.ts'
import { initialScreen } from '../../src/terminal/screen-state.ts'
import { sampleLive } from './sample-lives.ts'

const shown = { live: sampleLive(137), screen: initialScreen, marks: true, ends: true }

describe('the key tables', () => {
  test.each([
    ['test', testKeys],
    ['question', questionKeys],
  ])('the %s table has no key twice', (_name, table) => {
    const keys = table.flatMap((row) => row.keys)
    expect(new Set(keys).size).toBe(keys.length)
  })

  test('every key of every table stands in the help with what it does', () => {
    const help = helpLines(shown, { x: 0, y: 0, width: 200, height: 60 }).map(bareText)
    for (const row of [...testKeys, ...questionKeys])
      expect(help.filter((text) => text.includes(` ${row.shown} `) && text.includes(row.does))).toHaveLength(1)
  })

  test('the help fits 80 × 24 and says why a key is blocked', () => {
    const help = helpLines(shown, { x: 0, y: 0, width: 80, height: 23 }).map(bareText)
    expect(help.length).toBeLessThanOrEqual(23)
    expect(Math.max(...help.map((text) => text.length))).toBeLessThanOrEqual(80)
    expect(help.join(' ').replace(/ +/g, ' ')).toContain('Not now: cycles are being counted already.')
  })

  test.each([
    ['waiting', 'z', 'there is no reading yet'],
    ['zero', 'd', 'there is no stroke to discard yet'],
    ['precondition', 'f', 'the first stroke is over; only a rested part has another'],
    ['cycles', 'p', 'counting has begun'],
    ['cycles', 'c', 'cycles are being counted already'],
    ['cycles', 'enter', 'the test is still running; q ends it'],
    ['ended', 'z', 'the test has ended'],
    ['zero', 'f', null],
    ['first-stroke', 'c', null],
    ['cycles', 'd', null],
    ['ended', 'enter', null],
  ] as const)('in phase %s the key %s is blocked by: %s', (phase, key, why) => {
    const situation = { live: sampleLive(137, { phase }), marks: true, ends: true, ending: false }
    expect(findKey(testKeys, key)!.blocked(situation)).toBe(why)
  })

  test('a recording played back takes no marks', () => {
    const situation = { live: sampleLive(137), marks: false, ends: false, ending: false }
    for (const key of ['z', 'f', 'p', 'c', 'd', 'n'])
      expect(findKey(testKeys, key)!.blocked(situation)).toMatch(/played back/)
  })

  test('letters answer in either case, and an unknown key finds nothing', () => {
    expect(findKey(testKeys, 'Z')?.command).toBe('zero')
    expect(findKey(testKeys, 'x')).toBeUndefined()
  })
})

describe('keyNames', () => {
  test('several keys typed at once come one by one', () => {
    expect(keyNames('zfq', {})).toEqual(['z', 'f', 'q'])
    expect(keyNames('a\rb', {})).toEqual(['a', 'enter', 'b'])
  })

  test('special keys have names; arrows, other control keys and torn sequences give none', () => {
    expect(keyNames('', { return: true })).toEqual(['enter'])
    expect(keyNames('', { escape: true })).toEqual(['escape'])
    expect(keyNames('c', { ctrl: true })).toEqual(['ctrl-c'])
    expect(keyNames('z', { ctrl: true })).toEqual([])
    expect(keyNames('', {})).toEqual([])
    expect(keyNames('[A', {})).toEqual([])
    expect(keyNames('\x9b\x07', {})).toEqual([])
  })
})

describe('keyLine', () => {
  test('puts blocked keys in brackets where all fit, and leaves them out where not', () => {
    expect(bareText(keyLine(shown, 80))).toBe(
      ' z zero  (f first)  (p precond.)  (c count)  d discard  n note  q end  ? help ',
    )
    expect(bareText(keyLine(shown, 60))).toBe(' z zero  d discard  n note  q end  ? help ')
  })

  test('offers leaving, and not ending, once the run has ended', () => {
    expect(bareText(keyLine({ ...shown, live: sampleLive(137, { phase: 'ended' }) }, 80))).toBe(' Enter leave  ? help ')
  })
})
