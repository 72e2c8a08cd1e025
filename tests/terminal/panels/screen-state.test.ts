import { describe, expect, test } from 'vitest'
import type { TypedAsk } from '../../../src/core/guide/typed-ask.ts'
import type { StepName } from '../../../src/core/plan/test-steps.table.ts'
import {
  initialScreen,
  pasteText,
  pressKey,
  type Request,
  type ScreenState,
} from '../../../src/terminal/panels/screen-state.ts'
import { sampleGuide, sampleLive } from '../sample-lives.ts'

const running = { live: sampleLive(137), marks: true, ends: true, rings: true }
const ended = { ...running, live: sampleLive(137, { phase: 'ended' }) }

function press(keys: readonly string[], run: typeof running = running, from: ScreenState = initialScreen) {
  let state = from
  const requests: Request[] = []
  for (const key of keys) {
    const step = pressKey(state, key, run)
    state = step.state
    if (step.request) requests.push(step.request)
  }
  return { state, requests }
}

describe('pressKey', () => {
  test('a mark key asks for its mark and says so', () => {
    const { state, requests } = press(['z', 'd'])
    expect(requests).toEqual([
      { kind: 'mark', mark: 'zero' },
      { kind: 'mark', mark: 'discard-cycle' },
    ])
    expect(state.said).toMatch(/^Marked: Discard/)
  })

  test('a blocked key asks for nothing and says why', () => {
    const { state, requests } = press(['r'])
    expect(requests).toEqual([])
    expect(state.said).toBe('r again: not now, d discards a cycle and one more counts')
    expect(press(['x'], running, state).state.said).toBeNull()
  })

  test('Enter acknowledges every caution that waits', () => {
    const cautions = ['mains-off', 'no-bypass'].map((name) => ({ name, text: name }))
    const waiting = { ...running, live: sampleLive(5, { guide: sampleGuide({ cautions }) }) }
    expect(press(['enter'], waiting).requests).toEqual([{ kind: 'acknowledge', names: ['mains-off', 'no-bypass'] }])
    expect(press(['enter']).requests).toEqual([])
  })

  test('a step is skipped with a reason, which is recorded, and not without one', () => {
    const holding = { ...running, live: sampleLive(137, { guide: sampleGuide({ step: 'hold' }) }) }
    expect(press(['s'], holding).state.mode).toBe('skip')
    expect(press(['s', 'enter'], holding).requests).toEqual([])
    expect(press(['s', 'x', 'escape'], holding).requests).toEqual([])
    expect(press(['s', ...'no clamp', 'enter'], holding).requests).toEqual([
      { kind: 'mark', mark: 'note', text: 'Skipped hold: no clamp' },
    ])
  })

  test('a step begins again with its own mark', () => {
    const at = (step: StepName) => ({ ...running, live: sampleLive(137, { guide: sampleGuide({ step }) }) })
    expect(press(['r'], at('hold')).requests).toEqual([{ kind: 'mark', mark: 'hold' }])
    expect(press(['r'], at('closing-zero')).requests).toEqual([{ kind: 'mark', mark: 'zero' }])
    expect(press(['r'], at('precondition')).requests).toEqual([{ kind: 'mark', mark: 'precondition' }])
  })

  test('the bell goes off and on again', () => {
    expect(press(['b', 'b']).requests).toEqual([
      { kind: 'sound', on: false },
      { kind: 'sound', on: true },
    ])
  })

  test('ending a running test asks once, and Enter finishes it', () => {
    expect(press(['q']).requests).toEqual([])
    expect(press(['q']).state.mode).toBe('question')
    expect(press(['q', 'enter']).requests).toEqual([{ kind: 'end', reason: 'finished' }])
    expect(press(['q', 'a']).requests).toEqual([{ kind: 'end', reason: 'abandoned' }])
    expect(press(['q', 'escape']).requests).toEqual([])
  })

  test('Ctrl-C three times asks, abandons and leaves, even when the end never comes', () => {
    expect(press(['ctrl-c', 'ctrl-c', 'ctrl-c']).requests).toEqual([
      { kind: 'end', reason: 'abandoned' },
      { kind: 'leave' },
    ])
  })

  test('while the question stands no key marks anything', () => {
    expect(press(['q', 'z', 's', 'd']).requests).toEqual([])
  })

  test('after the end Enter and q leave', () => {
    expect(press(['enter'], ended).requests).toEqual([{ kind: 'leave' }])
    expect(press(['q'], ended).requests).toEqual([{ kind: 'leave' }])
  })

  test('a run that cannot be ended from here is left at once', () => {
    expect(press(['q'], { ...running, marks: false, ends: false }).requests).toEqual([{ kind: 'leave' }])
  })

  test('a note takes every key as text until Enter; Esc drops it', () => {
    expect(press(['n', 'z', ' ', 'q', 'x', 'backspace', 'enter']).requests).toEqual([
      { kind: 'mark', mark: 'note', text: 'z q' },
    ])
    expect(press(['n', 'z', 'escape']).requests).toEqual([])
    expect(press(['n', 'enter']).requests).toEqual([])
  })

  test('a serial number is corrected before the first stroke, and stays once that has begun', () => {
    const waiting = { ...running, live: sampleLive(2, { phase: 'zero' }), serial: 'A1O47' }
    const keys = ['i', 'backspace', 'backspace', 'backspace', ...'047', 'enter']
    expect(press(keys, waiting).requests).toEqual([{ kind: 'serial', serial: 'A1047' }])
    expect(press(['i', 'enter'], waiting).state.said).toBe('The serial number stays.')
    const typed = press(keys.slice(0, -1), waiting).state
    const late = { ...waiting, live: sampleLive(20, { phase: 'first-stroke' }) }
    expect(press(['enter'], late, typed).requests).toEqual([])
    expect(press(['i', ...'x'.repeat(150)], waiting).state.draft).toHaveLength(100)
  })

  test('a note is corrected where the cursor is, and keeps what no key of the text does', () => {
    const keys = ['n', ...'lot A7', 'home', 'ctrl-k', ...'a7', 'left', 'left', 'delete', 'A', 'page-up', 'end', 'enter']
    expect(press(keys).requests).toEqual([{ kind: 'mark', mark: 'note', text: 'A7' }])
    expect(pasteText(press(['n', ...'ad', 'left']).state, 'bc').draft).toBe('abcd')
  })

  test('a note is never longer than 200 characters', () => {
    const { requests } = press(['n', ...'x'.repeat(250), 'enter'])
    expect(requests).toEqual([{ kind: 'mark', mark: 'note', text: 'x'.repeat(200) }])
  })

  test('any key closes the help and does nothing else', () => {
    const { state, requests } = press(['?', 'q'])
    expect(state.mode).toBe('test')
    expect(requests).toEqual([])
  })
})

describe('pasteText', () => {
  test('pasted text is never keys: outside a note it is ignored and that is said', () => {
    const state = pasteText(initialScreen, 'qazz')
    expect(state.mode).toBe('test')
    expect(state.said).toMatch(/ignored/)
  })

  test('inside a note it is cleaned text', () => {
    const { state } = press(['n'])
    expect(pasteText(state, 'A1\x1b[2J\n7').draft).toBe('A1\\u001b[2J 7')
  })
})

describe('a pressure that is typed', () => {
  const ask: TypedAsk = {
    ...{ what: 'make', offered: '-0.250', unit: 'inH2O', digit: 0.001 },
    ...{ expected: -0.25, fullScale: 2, made: null },
  }
  const live = sampleLive(137, { guide: sampleGuide({ typed: { ask, key: 'closed' } }) })
  const typing = { ...running, live }
  const order = { what: 'make', unit: 'inH2O', digit: 0.001 }

  test('begins with its first digit, and Enter asks for its record', () => {
    const { state, requests } = press([...'-0.251', 'enter'], typing)
    expect(requests).toEqual([{ kind: 'typed', order: { ...order, text: '-0.251' } }])
    expect(state).toMatchObject({ mode: 'test', said: expect.stringContaining('the make -0.251 inH2O') })
  })

  test('is offered by Enter as it was typed last, and goes up and down by a digit', () => {
    expect(press(['enter', 'up', 'up', 'down', 'enter'], typing).requests).toEqual([
      { kind: 'typed', order: { ...order, text: '-0.251' } },
    ])
  })

  test('is asked about once where it looks wrong, and recorded where the same comes again', () => {
    const doubted = press([...'-2.50', 'enter'], typing)
    expect(doubted.requests).toEqual([])
    expect(doubted.state).toMatchObject({ mode: 'typed', said: expect.stringContaining('Is it right?') })
    expect(press(['enter'], typing, doubted.state).requests).toEqual([
      { kind: 'typed', order: { ...order, text: '-2.50' } },
    ])
    const changed = press(['1', 'enter'], typing, doubted.state)
    expect(changed.requests).toEqual([])
    expect(press([...'abc', 'enter'], typing, press(['enter', 'ctrl-u'], typing).state).requests).toEqual([
      { kind: 'typed', order: { what: 'contact', text: 'closed' } },
    ])
  })

  test('is dropped with Esc, and asked for in no other test', () => {
    expect(press(['-', 'escape'], typing)).toMatchObject({ requests: [], state: { mode: 'test' } })
    expect(press(['1', 'enter']).requests).toEqual([])
    const waits = { ...running, live: sampleLive(137, { guide: sampleGuide({ typed: { ask: null, key: null } }) }) }
    expect(press(['1'], waits).state.said).toContain('no pressure is asked for')
    expect(press(['c'], waits)).toMatchObject({
      requests: [],
      state: { said: expect.stringContaining('a meter sends') },
    })
  })

  test('leaves the key of the contact free: c is recorded at once, with what it says next', () => {
    const contact = { kind: 'typed', order: { what: 'contact', text: 'closed' } }
    expect(press(['c'], typing).requests).toEqual([contact])
    const { state, requests } = press([...'-0.2', 'c', '5', 'enter'], typing)
    expect(requests).toEqual([contact, { kind: 'typed', order: { ...order, text: '-0.25' } }])
    expect(state.mode).toBe('test')
    expect(press(['c']).requests).toEqual([])
  })
})
