import { describe, expect, test } from 'vitest'
import type { Verdict } from '../../../src/core/model/result.ts'
import { helpLines } from '../../../src/terminal/panels/help-lines.ts'
import { keyLine } from '../../../src/terminal/panels/key-line.ts'
import { findKey, keyNames, questionKeys, testKeys } from '../../../src/terminal/panels/keys.ts'
import { initialScreen } from '../../../src/terminal/panels/screen-state.ts'
import { bareText } from '../../../src/terminal/text/line.ts'
import { sampleGuide, sampleLive, sampleResult } from '../sample-lives.ts'

const open = { marks: true, ends: true, ending: false, rings: true }
const shown = { live: sampleLive(137), screen: initialScreen, marks: true, ends: true }

describe('the key tables', () => {
  test.each([
    ['test', testKeys],
    ['question', questionKeys],
  ])('in the %s table no key does two things at once', (_name, table) => {
    for (const phase of ['waiting', 'zero', 'cycles', 'ended'] as const)
      for (const cautions of [[], [{ name: 'x', text: 'x' }]]) {
        const situation = { ...open, live: sampleLive(137, { phase, guide: sampleGuide({ cautions }) }) }
        const keys = table.filter((row) => row.blocked(situation) === null).flatMap((row) => row.keys)
        expect(new Set(keys).size).toBe(keys.length)
      }
  })

  test('every key of every table stands in the help with what it does', () => {
    const help = helpLines(shown, { x: 0, y: 0, width: 200, height: 60 }).map(bareText)
    for (const row of [...testKeys, ...questionKeys])
      expect(help.filter((text) => text.includes(` ${row.shown} `) && text.includes(row.does))).toHaveLength(1)
  })

  test('where readings are typed it has their keys, and none for a zero', () => {
    const live = sampleLive(137, { guide: sampleGuide({ typed: { ask: null, key: 'open' } }) })
    const help = helpLines({ ...shown, live }, { x: 0, y: 0, width: 200, height: 60 }).map(bareText)
    expect(help.filter((text) => /^ (0-9|c) /.test(text))).toHaveLength(2)
    expect(help.filter((text) => /^ z /.test(text))).toEqual([])
  })

  test('the help fits 80 × 24 and says why a key is blocked', () => {
    const help = helpLines(shown, { x: 0, y: 0, width: 80, height: 23 }).map(bareText)
    expect(help.length).toBeLessThanOrEqual(23)
    expect(Math.max(...help.map((text) => text.length))).toBeLessThanOrEqual(80)
    expect(help.join(' ').replace(/ +/g, ' ')).toContain('Not now: d discards a cycle and one more counts.')
  })

  test.each([
    ['waiting', 'z', 'no reading yet'],
    ['zero', 'd', 'no stroke to discard yet'],
    ['first-stroke', 'r', 'only a rested part has a first stroke'],
    ['first-stroke', 's', 'the first stroke is judged, so it cannot be left out'],
    ['cycles', 'r', 'd discards a cycle and one more counts'],
    ['cycles', 'enter', 'the test is still running; q ends it'],
    ['zero', 'i', null],
    ['first-stroke', 'i', 'the first stroke has begun'],
    ['ended', 'i', 'the test has ended'],
    ['ended', 'z', 'the test has ended'],
    ['ended', 'b', 'the test has ended'],
    ['zero', 'r', null],
    ['hold', 's', null],
    ['hold', 'r', null],
    ['cycles', 's', null],
    ['cycles', 'd', null],
    ['cycles', 'b', null],
    ['ended', 'enter', null],
  ] as const)('in phase %s the key %s is blocked by: %s', (phase, key, why) => {
    const step = phase === 'waiting' || phase === 'ended' ? 'zero' : phase
    const situation = { ...open, live: sampleLive(137, { phase, guide: sampleGuide({ step }) }) }
    expect(findKey(testKeys, key, situation)!.blocked(situation)).toBe(why)
  })

  test('Enter acknowledges while a caution waits, and leaves once the test has ended', () => {
    const guide = sampleGuide({ cautions: [{ name: 'mains-off', text: 'Mains off.' }] })
    expect(findKey(testKeys, 'enter', { ...open, live: sampleLive(137, { guide }) })?.command).toBe('acknowledge')
    expect(findKey(testKeys, 'enter', { ...open, live: sampleLive(137, { guide, phase: 'ended' }) })?.command).toBe(
      'leave',
    )
  })

  test('a recording played back takes no marks and rings no bell', () => {
    const situation = { live: sampleLive(137), marks: false, ends: false, ending: false }
    for (const key of ['z', 'r', 's', 'd', 'n', 'b', 'i'])
      expect(findKey(testKeys, key, situation)!.blocked(situation)).toMatch(/played back/)
  })

  test('the test is repeated from its verdict where the part is not decided', () => {
    const at = (verdict: Verdict) => ({
      ...open,
      live: sampleLive(137, { phase: 'ended', result: sampleResult(9, { verdict }) }),
    })
    const repeats = (verdict: Verdict) => findKey(testKeys, 'r', at(verdict))?.command === 'repeat'
    expect((['pass', 'fail', 'undecided', 'void', 'not-assessed'] as const).filter(repeats)).toEqual([
      'undecided',
      'void',
      'not-assessed',
    ])
  })

  test('letters answer in either case, and an unknown key finds nothing', () => {
    const situation = { ...open, live: sampleLive(137) }
    expect(findKey(testKeys, 'Z', situation)?.command).toBe('zero')
    expect(findKey(testKeys, 'x', situation)).toBeUndefined()
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
    expect(bareText(keyLine({ ...shown, rings: true }, 90))).toBe(
      ' z zero  (r again)  s skip  d discard  n note  b bell  q end  ? help ',
    )
    expect(bareText(keyLine({ ...shown, rings: true }, 60))).toBe(
      ' z zero  s skip  d discard  n note  b bell  q end  ? help ',
    )
  })

  test('offers leaving, and not ending, once the run has ended', () => {
    const ended = { ...shown, live: sampleLive(137, { phase: 'ended', result: sampleResult(9) }) }
    expect(bareText(keyLine(ended, 80))).toBe(' Enter leave  w report  p print  t tag  ? help ')
    const recording = '20270314-091500Z-A1047-3f9c1a.run'
    expect(bareText(keyLine({ ...ended, recording }, 86))).toMatch(
      /^ Enter leave {2}w report {2}p print {2}t tag {2}\? help +20270314-\S+3f9c1a.run $/,
    )
    expect(bareText(keyLine({ ...ended, recording }, 66))).toMatch(/ …\S*3f9c1a.run $/)
    expect(bareText(keyLine({ ...ended, recording }, 50))).toBe(' Enter leave  w report  p print  t tag  ? help ')
  })
})
