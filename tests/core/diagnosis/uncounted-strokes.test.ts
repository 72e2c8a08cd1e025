// Strokes that do not count, second pulls and discards: what each of them shows keeps a part from a pass.
import { describe, expect, test } from 'vitest'
import { rewrite, withEvents } from '../../harness/foreign-recording.ts'
import { found, judged, session, within } from './sessions.ts'

const seven = session({ cycles: 7, ratePaPerS: () => 1.5 })

describe('uncounted-strokes', () => {
  const low = (stroke: number, change: Parameters<typeof session>[0] = {}) =>
    session({
      cycles: 7,
      ratePaPerS: (n) => (n > 5 ? 3 : 1.2),
      shiftPa: (n) => (n === stroke ? -14 : 0),
      ...change,
    })
  test('a make far too low in a stroke that was too fast to count keeps the part from a pass', () => {
    const fast = low(3, { ratePaPerS: (n) => (n > 5 ? 3 : n === 3 ? 45 : 1.2) })
    expect(judged(fast).cycles[3]!.why).toBe('too-fast')
    expect(found(fast)).toContainEqual(['uncounted-strokes', 'undecided'])
    expect(judged(fast).verdict).toBe('undecided')
  })
  test('one just after the manometer came back keeps it from a pass, though the contact may be late', () => {
    const dropped = low(3)
    const { makeS } = dropped.strokes[3]!
    const back = rewrite(dropped, 'manometer', (tS, text) => (within(tS, makeS - 3, makeS - 0.5) ? null : text))
    expect(judged(back).cycles[3]!.why).toBe('gap')
    expect(found(back)).toContainEqual(['uncounted-strokes', 'undecided'])
    expect(judged(back).verdict).toBe('undecided')
  })
  test('one in a stroke that conditions the part fails it: it conducts where it must not', () => {
    const { events, ...rest } = low(2)
    const starts = rest.strokes.map(({ startS }) => Math.round((startS - 1) * 1e6))
    const conditioned = withEvents({ events, ...rest }, [
      { type: 'mark', t: starts[1]!, mark: 'precondition' },
      { type: 'mark', t: starts[3]!, mark: 'cycles' },
    ])
    expect(judged(conditioned).cycles.map(({ why }) => why)).toContain('precondition')
    expect(found(conditioned)).toContainEqual(['uncounted-strokes', 'fail'])
    expect(judged(conditioned).verdict).toBe('fail')
  })
  test('a good part drawn too fast in one stroke passes', () => {
    const fast = session({ cycles: 7, ratePaPerS: (n) => (n > 5 ? 3 : n === 3 ? 45 : 1.2) })
    expect(judged(fast).cycles[3]!.why).toBe('too-fast')
    expect(found(fast)).toEqual([])
    expect(judged(fast).verdict).toBe('pass')
  })
})

describe('a second pull in the same stroke', () => {
  const pulled = (shiftPa: number) => {
    const { events, ...rest } = session({
      cycles: 6,
      ratePaPerS: (n) => (n > 4 ? 3 : 1.2),
      restsS: { before: 12, between: 0, after: 12 },
      shiftPa: (n) => (n === 3 ? shiftPa : 0),
    })
    const [, third, fourth] = rest.strokes.slice(1)
    return rewrite({ events, ...rest }, 'manometer', (tS, text) =>
      within(tS, third!.breakS, fourth!.makeS) && Math.abs(Number.parseFloat(text)) < 0.097 ? '-0.097 inH2O\r\n' : text,
    )
  }
  test('whose make lies outside the limit keeps the part from a pass', () => {
    expect(judged(pulled(11)).cycles).toHaveLength(6)
    expect(found(pulled(11))).toContainEqual(['uncounted-strokes', 'undecided'])
    expect(judged(pulled(11)).verdict).not.toBe('pass')
  })
})

describe('discarded-strokes', () => {
  const discard = (recording: typeof seven, strokes: readonly number[]) =>
    withEvents(
      recording,
      strokes.map((stroke) => {
        const atS = recording.strokes[stroke]!.endS + 0.3
        return { type: 'mark', t: Math.round(atS * 1e6), mark: 'discard-cycle' }
      }),
    )
  test('one stroke within the limits may be discarded', () => {
    expect(judged(discard(session({ cycles: 7 }), [3])).verdict).toBe('pass')
  })
  test('a discarded stroke whose make lies outside the limits keeps the part from a pass, and is told', () => {
    const low = session({ cycles: 7, ratePaPerS: () => 1.5, shiftPa: (stroke) => (stroke === 3 ? -12 : 0) })
    expect(judged(low).verdict).toBe('fail')
    const { verdict, findings } = judged(discard(low, [3]))
    expect(findings.find(({ code }) => code === 'discarded-strokes')!.text).toMatch(
      /^Stroke 4 was discarded, and its make at /,
    )
    expect([verdict, findings[0]!.code]).toEqual(['fail', 'conducts-at-rest'])
  })
  test('so does one that lies above by less than its kick: behind that it did not trip', () => {
    const high = session({ cycles: 7, ratePaPerS: (n) => (n > 5 ? 3 : 1.2), shiftPa: (n) => (n === 3 ? 10 : 0) })
    expect(found(discard(high, [3]))).toContainEqual(['discarded-strokes', 'undecided'])
  })
  test('more than one discard in five keeps it from a pass', () => {
    expect(found(discard(seven, [2, 3]))).toEqual([['discarded-strokes', 'undecided']])
  })
})
