import { describe, expect, test } from 'vitest'
import { type Assessment, assess } from '../../../src/core/assess.ts'
import type { Guide } from '../../../src/core/guide/guidance.ts'
import { type Flow, guideOf } from '../../../src/core/guide/guide.ts'
import { steppedText, type TypedAsk, typedDoubt, typedFault, typedText } from '../../../src/core/guide/typed-ask.ts'
import { step } from '../../../src/core/intake/run.ts'
import { resultOf } from '../../../src/core/judge.ts'
import type { Live } from '../../../src/core/view/live.ts'
import { liveOf } from '../../../src/core/view/live-view.ts'
import { newRun, readEvent, sealRun } from '../../harness/fold-events.ts'
import { typedSession } from '../../harness/typed-session.ts'

const flow: Flow = { plan: { preconditioning: 3, cycles: 6 }, asks: false }
const shown = { make: '-0.250', break: '-0.190', zero: '0.000', 'hold-start': '-0.300', 'hold-end': '-0.300' }

/** A person who does what the guide says: draws within 5 s, lets down in 20 s, types and keys within 2 s; all that was said, in order. */
function obeyed(contact: 'sends' | 'keyed') {
  const [start] = typedSession({ contact })
  let run = step(newRun(), readEvent(start!))
  let assessment: Assessment = null
  let live: Live | null = null
  const said: string[] = []
  const guides: Guide[] = []
  let [closed, sinceS, words] = [false, 0, '']
  let guide: Guide | null = null
  for (let tS = 0; tS < 2000 && guide?.step !== 'verdict'; tS += 0.25) {
    const add = (event: object) => {
      run = step(run, readEvent({ t: Math.round(tS * 1e6), ...event }))
    }
    add({ type: 'tick' })
    if (contact === 'sends') add({ type: 'rx', port: 'meter', text: closed ? '0.31\n' : '9.9E37\n' })
    assessment = assess(run, assessment)
    live = liveOf(run, assessment, flow)
    guide = guideOf(run, run.setup!, assessment, flow)!
    if (`${guide.step}: ${guide.sentence}` !== words) {
      words = `${guide.step}: ${guide.sentence}`
      said.push(words)
      guides.push(guide)
      sinceS = tS
    }
    if (guide.flow && guide.marksSeen === run.marks.length) add({ type: 'mark', by: 'flow', ...guide.flow })
    const waited = tS - sinceS
    const change = (to: boolean) => {
      closed = to
      if (contact === 'keyed') add({ type: 'typed', what: 'contact', text: to ? 'closed' : 'open' })
    }
    const { ask } = guide.typed!
    if (ask && waited >= 2) {
      const { what, unit, digit } = ask
      add({ type: 'typed', what, text: shown[what], unit, digit })
    } else if (guide.action === 'type' && !ask && waited >= 2) change(false)
    else if (guide.action === 'draw' && waited >= 5) change(true)
    else if (guide.action === 'let-down' && waited >= 20) change(false)
  }
  run = step(run, readEvent({ type: 'end', t: run.tUs, reason: 'finished' }))
  return { said, guides, live: live!, result: resultOf(sealRun(run))! }
}

describe('the guide of a test whose pressures are typed', () => {
  test.each(['sends', 'keyed'] as const)('leads through the whole test to a pass; the meter: %s', (contact) => {
    const { said, guides, live, result } = obeyed(contact)
    expect(result.verdict).toBe('pass')
    expect(result.cycles.filter((c) => c.used)).toHaveLength(6)
    expect(result.cycles.map(({ why }) => why).slice(0, 4)).toEqual([
      'first-stroke',
      'precondition',
      'precondition',
      'precondition',
    ])
    // The hold was typed, and bounds the leak.
    expect(result.make.allowLowPa!).toBeLessThan(0.1 * result.make.valuePa!)
    const steps = [...new Set(guides.map((g) => g.step))]
    expect(steps).toEqual(['zero', 'first-stroke', 'precondition', 'hold', 'cycles', 'closing-zero', 'verdict'])
    expect(said.filter((text) => text.includes('as it made'))).toHaveLength(10)
    expect(live.links.find((link) => link.port === 'manometer')?.state).toBe('typed')
    expect(live.phase).toBe('closing-zero')
  })

  test('offers what was typed last for the same, and asks for the contact by its key alone', () => {
    const { guides } = obeyed('keyed')
    const makes = guides.flatMap((g) => (g.typed?.ask?.what === 'make' ? [g.typed.ask.offered] : []))
    expect(makes.slice(0, 3)).toEqual([null, '-0.250', '-0.250'])
    expect(guides[0]).toMatchObject({ action: 'type', typed: { ask: null, key: 'open' } })
    expect(obeyed('sends').guides[0]?.typed?.key).toBeNull()
  })
})

describe('a number before it is recorded', () => {
  const ask: TypedAsk = {
    what: 'make',
    offered: '-0.250',
    unit: 'inH2O',
    digit: 0.001,
    expected: -0.25,
    fullScale: 2,
    made: null,
  }
  test('has to be one', () => {
    expect(typedText(' −0,253 ')).toBe('-0.253')
    expect(typedFault(ask, '-0.253')).toBeNull()
    for (const text of ['', '-', 'abc', '1e3', '0.2.5', '-.25']) expect(typedFault(ask, text)).toContain('-0.250')
  })

  test('raises a question where point, sign, unit or scale look wrong, and none where all is well', () => {
    for (const text of ['-0.250', '-0.231', '-0.300']) expect(typedDoubt(ask, text)).toBeNull()
    expect(typedDoubt(ask, '0.250')).toContain('other sign')
    expect(typedDoubt(ask, '-2.500')).toContain('full scale')
    expect(typedDoubt({ ...ask, fullScale: null }, '-2.500')).toContain('far from')
    expect(typedDoubt({ ...ask, fullScale: null }, '-62.3')).toContain('unit')
    expect(typedDoubt(ask, '-0.025')).toContain('far from')
    expect(typedDoubt(ask, '-0.2505')).toContain('finer')
    expect(typedDoubt({ ...ask, what: 'break', made: -0.25 }, '-0.260')).toContain('no less than the make')
    expect(typedDoubt({ ...ask, what: 'zero', expected: 0 }, '0.002')).toBeNull()
    expect(typedDoubt({ ...ask, what: 'zero', expected: 0 }, '-0.250')).toContain('ports open')
  })

  test('goes up and down by a digit of the display, up being more pressure', () => {
    expect(steppedText(ask, '-0.250', true)).toBe('-0.251')
    expect(steppedText(ask, '-0.250', false)).toBe('-0.249')
    expect(steppedText(ask, '', true)).toBe('-0.251')
    expect(steppedText({ ...ask, expected: 62, offered: null, digit: 0.5 }, '62', true)).toBe('62.5')
  })
})
