import { describe, expect, test } from 'vitest'
import type { FindingEffect, Result } from '../../../src/core/model/result.ts'
import { longSpells } from '../../../src/core/typed/long-spells.ts'
import { foldEvents, resultFrom } from '../../harness/fold-events.ts'
import type { ForeignEvent } from '../../harness/foreign-recording.ts'
import { makeS, type TypedBench, typedSession } from '../../harness/typed-session.ts'

const inH2O = 249.08891
const judged = (change: Partial<TypedBench> = {}): Result => resultFrom(typedSession(change))
const effectOf = (result: Result, code: string): FindingEffect | undefined =>
  result.findings.find((f) => f.code === code)?.effect
const texts = (result: Result) => result.findings.map(({ text }) => text).join(' ')
const typed = (tS: number, what: string, text: string): ForeignEvent => ({
  ...{ type: 'typed', t: tS * 1e6, what, text, unit: 'inH2O', digit: 0.001 },
})
const mark = (tS: number, name: string): ForeignEvent => ({ type: 'mark', t: tS * 1e6, mark: name })
const brokeS = (stroke: number) => makeS(stroke) + 20
const narrow = { limits: { make: { low: 0.235, high: 0.265, unit: 'inH2O' } } }

describe('a test whose pressures were typed', () => {
  test('passes a good part whose limits are far, and says that it was typed', () => {
    const result = judged()
    expect(result.verdict).toBe('pass')
    expect(result.findings.map(({ code, effect }) => [code, effect])).toEqual([['typed-pressures', 'note']])
    expect(result.make.valuePa).toBeCloseTo((0.25 + (0.001 * 8) / 7) * inH2O, 6)
    expect(result.make.n).toBe(7)
    expect(result.acted).toEqual({ strokes: 8, made: 8, released: 8, discarded: 0 })
  })

  test('says the same of a contact that was keyed, with a wider U and a word about it', () => {
    const [sent, keyed] = [judged(), judged({ contact: 'keyed' })]
    expect(keyed.verdict).toBe('pass')
    expect(keyed.make.valuePa).toBeCloseTo(sent.make.valuePa!, 9)
    expect(keyed.make.UPa!).toBeGreaterThan(sent.make.UPa!)
    expect(effectOf(keyed, 'typed-contact')).toBe('note')
    expect(keyed.contact.medianOhm).toBeNull()
  })

  test('is undecided near its limits, with what keeps it open', () => {
    const result = judged({ part: narrow })
    expect(result.verdict).toBe('undecided')
    expect(result.limits.find((l) => l.name === 'make')?.outcome).toBe('undecided')
  })

  test('fails a part that lies outside its limits for certain', () => {
    expect(judged({ make: () => 0.1, break: () => 0.08 }).verdict).toBe('fail')
    expect(judged({ make: (n) => (n === 4 ? 0.07 : 0.25), break: (n) => (n === 4 ? 0.05 : 0.19) }).verdict).toBe('fail')
  })

  test('is undecided where a stroke may be hidden: one in which it did not release, or did not make, leaves nothing to type', () => {
    const edge = (tS: number, to: boolean) => ({
      loUs: tS * 1e6,
      hiUs: tS * 1e6,
      to,
      closes: to,
      bounces: 0,
      readings: 9,
    })
    const strokes = (from: number) => [0, 50, 100].flatMap((s) => [edge(from + s, true), edge(from + s + 30, false)])
    expect(longSpells(strokes(0), [])).toEqual([])
    const made = [...strokes(0), edge(150, true), edge(230, false), ...strokes(250)]
    expect(longSpells(made, [])).toMatchObject([{ made: true, lastedS: 80, usualS: 30 }])
    expect(longSpells([...strokes(0), ...strokes(200)], [])).toMatchObject([{ made: false, lastedS: 70, usualS: 20 }])
  })

  test('fails a part that lets go only as good as vented, be it in a discarded stroke undecided', () => {
    const late = (stroke: number) => (stroke === 4 ? 0 : 0.19)
    expect(judged({ break: late, heldS: 52 }).verdict).toBe('fail')
    // So low so soon after its make the hand went faster than stated: what it let go at is open.
    expect(judged({ break: late }).verdict).toBe('undecided')
    expect(judged({ break: late, more: [mark(brokeS(4) + 8, 'discard-cycle')] }).verdict).toBe('undecided')
  })

  test('has the reaction at the pace that is stated in its budget, twice in the differential', () => {
    const line = (result: Result, quantity: string) =>
      result.budget.find((b) => b.quantity === quantity && b.component === 'reaction')
    const pacePaPerS = 0.02 * 0.25 * inH2O
    const usual = judged()
    expect(line(usual, 'make')?.uPa).toBeCloseTo((0.5 * pacePaPerS) / Math.sqrt(3), 9)
    expect(line(usual, 'differential')?.uPa).toBeCloseTo((2 * 0.5 * pacePaPerS) / Math.sqrt(3), 9)
    const stated = judged({ options: { reactionS: 1, pacePercentPerS: 4 } })
    expect(line(stated, 'make')?.uPa).toBeCloseTo((2 * pacePaPerS) / Math.sqrt(3), 9)
    expect(stated.make.UPa!).toBeGreaterThan(usual.make.UPa!)
    expect(stated.make.allowLowPa!).toBeGreaterThan(usual.make.allowLowPa!)
  })

  test('pays for the lag of a hose that nothing excludes, less where a dated record of the line does', () => {
    const pacePaPerS = 0.02 * 0.25 * inH2O
    const usual = judged({ hold: { from: 0.3, to: 0.3, forS: 20 } })
    expect(usual.make.allowLowPa!).toBeGreaterThanOrEqual(3 * pacePaPerS)
    // The kick may have moved the display by as much as make and break seem to lie apart.
    expect(usual.make.allowHighPa).toBeCloseTo(1.5 * pacePaPerS + usual.make.valuePa! - usual.break.valuePa!, 0)
    const proved = { at: '2026-01-04', hoseS: 0.02, uHoseS: 0.02, recording: 'of the line' }
    expect(judged({ rig: { proved } }).make.allowLowPa!).toBeLessThan(usual.make.allowLowPa! / 2)
  })

  test('takes a tenth of the value for a leak where no hold was typed, less by a hold that was', () => {
    const without = judged({ hold: null })
    expect(without.make.allowLowPa).toBeCloseTo(0.1 * without.make.valuePa!, 9)
    expect(judged().make.allowLowPa!).toBeLessThan(without.make.allowLowPa!)
  })

  test('counts a hold for nothing that is short, low, topped up, or in which the contact changed', () => {
    const without = judged({ hold: null }).make.allowLowPa!
    for (const hold of [
      { from: 0.3, to: 0.3, forS: 8 },
      { from: 0.26, to: 0.26, forS: 20 },
      { from: 0.3, to: 0.305, forS: 20 },
    ])
      expect(judged({ hold }).make.allowLowPa).toBeCloseTo(without, 1)
    const opens = [typed(makeS(2) + 5, 'hold-start', '-0.300'), typed(makeS(2) + 30, 'hold-end', '-0.300')]
    expect(judged({ hold: null, more: opens }).make.allowLowPa).toBeCloseTo(without, 1)
  })

  test('is undecided where a hold shows a leak', () => {
    const result = judged({ hold: { from: 0.3, to: 0.28, forS: 20 } })
    expect(result.verdict).toBe('undecided')
    expect(texts(result)).toContain('leaks')
  })

  test('takes the zero off that was typed before and after, and never passes without one', () => {
    const off = (stroke: number) => 0.26 + 0.001 * ((stroke * 2) % 3)
    const shifted = judged({ zero: { before: 0.01, after: 0.01 }, make: off, break: () => 0.2 })
    expect(shifted.make.valuePa).toBeCloseTo(judged().make.valuePa!, 9)
    expect(judged({ zero: { before: null, after: null } }).verdict).toBe('undecided')
    expect(judged({ zero: { before: 0.24, after: 0 } }).verdict).toBe('undecided')
  })

  test('counts no stroke that went from make to break faster than the pace that is stated', () => {
    const result = judged({ heldS: 9 })
    expect(result.cycles.map(({ why }) => why)).toContain('too-fast')
    expect(result.verdict).toBe('undecided')
  })

  test('passes no blockage switch: one that does not open leaves nothing to type', () => {
    const part = { kind: 'blockage', limits: { make: { low: null, high: 0.4, unit: 'inH2O' } } }
    const result = judged({ part })
    expect(result.limits.find((l) => l.name === 'make')?.outcome).toBe('pass')
    expect(result.verdict).toBe('undecided')
  })
})

describe('what was typed against what the contact did', () => {
  test('a change without a pressure keeps the part from a pass', () => {
    for (const change of [
      { make: (stroke: number) => (stroke === 5 ? null : 0.25) },
      { break: (stroke: number) => (stroke === 5 ? null : 0.19) },
      { closes: [[makeS(3) - 20, makeS(3) - 18]] as const },
    ]) {
      const result = judged({ strokes: 10, ...change })
      expect(result.verdict).toBe('undecided')
      expect(texts(result)).toContain('no pressure was typed')
    }
  })

  test('a pressure without a change does too', () => {
    for (const more of [
      typed(makeS(3) - 10, 'make', '-0.250'),
      typed(brokeS(3) + 9, 'break', '-0.190'),
      typed(12, 'break', '-0.190'),
    ]) {
      const result = judged({ more: [more] })
      expect(result.verdict).toBe('undecided')
      expect(texts(result)).toContain('the contact did not change')
    }
  })

  test('a slip is put right by discarding its stroke: the part may still pass', () => {
    const twice = typed(makeS(3) + 6, 'make', '-0.251')
    expect(judged({ more: [twice] }).verdict).toBe('undecided')
    const discarded = judged({ more: [twice, mark(brokeS(3) + 8, 'discard-cycle')] })
    expect(discarded.verdict).toBe('pass')
    expect(discarded.cycles[3]?.why).toBe('discarded')
  })

  test('a wrong sign, and a break above its make, decide nothing', () => {
    const sign = judged({ make: (stroke) => (stroke === 0 ? -0.25 : 0.25) })
    expect(sign.verdict).toBe('undecided')
    expect(texts(sign)).toContain('sign')
    const above = judged({ break: (stroke) => (stroke === 3 ? 0.28 : 0.19) })
    expect(above.verdict).toBe('undecided')
    expect(texts(above)).toContain('mistyped')
  })

  test('a meter that was silent for a while keeps the part from a pass, wherever that was', () => {
    const result = judged({ heard: (tS) => tS < makeS(3) - 20 || tS > makeS(3) - 15 })
    expect(result.verdict).toBe('undecided')
    expect(texts(result)).toContain('not read for')
  })

  test('made at a typed zero it fails, unless the leads may be on the other pair', () => {
    const stuck = { closes: [[brokeS(7), makeS(8) + 20]] as const }
    const result = judged({ ...stuck, break: (stroke) => (stroke === 7 ? null : 0.19) })
    expect(effectOf(result, 'stayed-made')).toBe('fail')
    expect(result.verdict).toBe('fail')
    const closedFromTheStart = judged({ closes: [[0, makeS(0)]], strokes: 6 })
    expect(effectOf(closedFromTheStart, 'stayed-made')).toBe('undecided')
  })

  test('made at a typed zero is undecided where the contact was keyed: a key may not have been pressed', () => {
    const events = typedSession({ contact: 'keyed' })
    const lastOpen = events.findLastIndex((e) => e.what === 'contact')
    const result = resultFrom(events.filter((_, i) => i !== lastOpen))
    expect(result.verdict).toBe('undecided')
    expect(effectOf(result, 'stayed-made')).toBe('undecided')
    expect(effectOf(result, 'key-missed')).toBe('undecided')
  })

  test('a last stroke that never let go is told', () => {
    const result = judged({
      closes: [[brokeS(7), makeS(8) + 20]],
      zero: { before: 0, after: null },
      break: (stroke) => (stroke === 7 ? null : 0.19),
    })
    expect(result.verdict).toBe('undecided')
    expect(texts(result)).toContain('did not let go')
  })

  test('held beyond the high make limit and not made: undecided on NO, a fail where the pair still conducts', () => {
    const held = [typed(makeS(3) - 30, 'hold-start', '-0.400'), typed(makeS(3) - 20, 'hold-end', '-0.400')]
    const open = judged({ more: held })
    expect(effectOf(open, 'did-not-make')).toBe('undecided')
    expect(open.verdict).toBe('undecided')
  })

  test('typed beside a manometer that sends it counts for nothing, and says so', () => {
    const rig = { manometer: { driver: 'ascii-line', suctionSign: -1, digit: { value: 0.001, unit: 'inH2O' } } }
    const result = judged({ rig })
    expect(result.make.valuePa).toBeNull()
    expect(effectOf(result, 'typed-pressures')).toBe('undecided')
  })
})

describe('the event', () => {
  const refused = (change: object) => () => foldEvents([{ ...typed(1, 'make', '-0.250'), ...change }])
  test('takes a decimal number with its unit and digit, and a contact closed or open', () => {
    expect(refused({})).not.toThrow()
    expect(refused({ what: 'contact', text: 'closed', unit: undefined, digit: undefined })).not.toThrow()
    for (const change of [
      { text: '1e3' },
      { text: 'NaN' },
      { text: '' },
      { text: '0,25' },
      { unit: 'bar' },
      { unit: undefined },
      { digit: 0 },
      { digit: undefined },
      { what: 'peak' },
      { what: 'contact', text: 'shut' },
    ])
      expect(refused(change)).toThrow()
  })
})
