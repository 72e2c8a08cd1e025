import { describe, expect, test } from 'vitest'
import type { WhyNot } from '../../../src/core/model/result.ts'
import { resultFrom } from '../../harness/fold-events.ts'
import {
  type ForeignBench,
  type ForeignRecording,
  makeForeignRecording,
  mark,
  quietBench,
  rewrite,
  withEvents,
} from '../../harness/foreign-recording.ts'

/** Stroke 3 of six is the one that each test spoils. */
const spoilt = 3
const bench = (change: Partial<ForeignBench> = {}) =>
  makeForeignRecording({ ...quietBench, cycles: 5, ratePaPerS: (stroke) => [1.2, 1.2, 3][stroke % 3]!, ...change })
const whole = bench()
const { makeS, peakS, breakS, startS, endS } = whole.strokes[spoilt - 1]!

const reasons = (recording: ForeignRecording): (WhyNot | null)[] =>
  resultFrom(recording.events).cycles.map((c) => c.why)

/** What each stroke of a sound session is, with `why` in the place of the spoilt one. */
const only = (why: WhyNot | null) => ['first-stroke', null, why, null, null, null]

const within = (tS: number, fromS: number, toS: number) => tS > fromS && tS < toS

/** A dip of the pressure itself: down by `depthPa` and back, each in `halfS`. */
const dip =
  (atS: number, depthPa: number, halfS: number): NonNullable<ForeignBench['offsetPa']> =>
  (tS) =>
    -depthPa * Math.max(0, 1 - Math.abs(tS - atS) / halfS)

describe('Every reason for which a cycle does not count is seen, and a near miss is not:', () => {
  test('a sound session has none', () => expect(reasons(whole)).toEqual(only(null)))

  test('gap: the manometer is silent across the trip', () => {
    const silent = (fromS: number, toS: number) =>
      rewrite(whole, 'manometer', (tS, text) => (within(tS, fromS, toS) ? null : text))
    expect(reasons(silent(makeS - 0.4, makeS + 0.4))).toEqual(only('gap'))
    expect(reasons(silent(breakS - 0.4, breakS + 0.4))).toEqual(only('gap'))
    expect(reasons(silent(makeS - 0.12, makeS + 0.05))).toEqual(only(null))
    expect(reasons(silent(peakS - 0.5, peakS))).toEqual(only(null))
  })

  test('gap: the meter is silent across the trip', () => {
    const silent = (halfS: number) =>
      rewrite(whole, 'meter', (tS, text) => (within(tS, makeS - halfS, makeS + halfS) ? null : text))
    expect(reasons(silent(0.5))).toEqual(only('gap'))
    expect(reasons(silent(0.15))).toEqual(only(null))
  })

  test('gap: a cable was lost or came back at the trip', () => {
    const lost = (tS: number) =>
      withEvents(whole, [
        { type: 'link', t: Math.round(tS * 1e6), port: 'meter', state: 'lost' },
        { type: 'link', t: Math.round(tS * 1e6) + 10_000, port: 'meter', state: 'back' },
      ])
    expect(reasons(lost(makeS - 0.5))).toEqual(only('gap'))
    expect(reasons(lost(startS + 0.5))).toEqual(only(null))
  })

  test('reversal: the pressure went back before the trip by more than 2 % of the rated point', () => {
    expect(reasons(bench({ offsetPa: dip(makeS - 3, 4, 0.8) }))).toEqual(only('reversal'))
    // The same back and forth far below the trip, or one of the noise's size, does no harm.
    expect(reasons(bench({ offsetPa: dip(startS + 4, 4, 0.4) }))).toEqual(only(null))
    expect(reasons(bench({ offsetPa: dip(makeS - 3, 0.6, 0.5) }))).toEqual(only(null))
  })

  test('too-fast: what the sampling leaves open is more than an eighth of the tolerance', () => {
    // T = 0.03 inH2O = 7.5 Pa; 0.93 Pa = r·Tc/√12: 8 Pa/s at 0.5 s is beyond it, 4 Pa/s is not.
    const at = (ratePaPerS: number) =>
      bench({ meterS: 0.5, kickPa: 0, ratePaPerS: (stroke) => (stroke === spoilt - 1 ? ratePaPerS : 1) })
    expect(reasons(at(8))).toEqual(only('too-fast'))
    expect(reasons(at(4))).toEqual(only(null))
  })

  test('frozen: the display stood still for over 3 s while the contact changed', () => {
    const frozen = (fromS: number, toS: number) => {
      let shown = ''
      return rewrite(whole, 'manometer', (tS, text) => {
        if (!within(tS, fromS, toS)) shown = text
        return shown
      })
    }
    expect(reasons(frozen(makeS - 3, makeS + 1.5))).toEqual(only('frozen'))
    expect(reasons(frozen(endS + 0.5, endS + 2.8))).toEqual(only(null))
  })

  test('unit-changed: from the change on nothing counts', () => {
    const changed = rewrite(whole, 'manometer', (tS, text) =>
      tS < startS ? text : `${(Number.parseFloat(text) * 25.4).toFixed(3)} mmH2O\r\n`,
    )
    const changedFrom = ['first-stroke', null, 'unit-changed', 'unit-changed', 'unit-changed', 'unit-changed']
    expect(reasons(changed)).toEqual(changedFrom)
  })

  test('chatter: at least three transitions at the trip', () => {
    const flutter = (changes: number) =>
      rewrite(whole, 'meter', (tS, text) => {
        const k = Math.floor((tS - makeS) / 0.4)
        return k >= 0 && k < changes ? (k % 2 === 0 ? '+3.1E-01\n' : '+9.9E+37\n') : text
      })
    expect(reasons(flutter(4))).toEqual(only('chatter'))
    expect(reasons(flutter(1))).toEqual(only(null))
  })

  test('no-make and no-break: the change is missing', () => {
    const open = rewrite(whole, 'meter', (tS, text) => (within(tS, startS, endS + 1) ? '+9.9E+37\n' : text))
    expect(reasons(open)).toEqual(only('no-make'))
    const { breakS: nextBreakS } = whole.strokes[spoilt]!
    const stuck = rewrite(whole, 'meter', (tS, text) => (within(tS, makeS, nextBreakS) ? '+3.1E-01\n' : text))
    expect(reasons(stuck)).toEqual(['first-stroke', null, 'no-break', 'no-make', null, null])
  })

  test('discarded and precondition: the marks say so', () => {
    expect(reasons(withEvents(whole, [mark(peakS, 'discard-cycle')]))).toEqual(only('discarded'))
    expect(reasons(withEvents(whole, [mark(endS + 1, 'discard-cycle')]))).toEqual(only('discarded'))
    const marked = [mark(startS - 1, 'precondition'), mark(endS + 1, 'cycles')]
    expect(reasons(withEvents(whole, marked))).toEqual(only('precondition'))
    const dropped = [marked[0]!, mark(peakS, 'discard-cycle'), marked[1]!]
    expect(reasons(withEvents(whole, dropped))).toEqual(only('discarded'))
  })
})

describe('A cycle that does not count', () => {
  // Deliberate error that this catches: cycles that are told not to count, counted all the same.
  test('is in no mean: a stroke 6 Pa off that was discarded moves neither make nor break', () => {
    const off = bench({ shiftPa: (stroke) => (stroke === spoilt - 1 ? 6 : 0), scatterPa: 0.1 })
    const result = resultFrom(withEvents(off, [mark(off.strokes[spoilt - 1]!.endS + 1, 'discard-cycle')]).events)
    expect(result.make.n).toBe(4)
    expect(Math.abs(result.make.valuePa! - 62)).toBeLessThan(0.5)
    expect(result.verdict).toBe('undecided')
    expect(result.cycles[spoilt - 1]).toMatchObject({ used: false, why: 'discarded' })
  })

  test('keeps the first reason that applies: its own fault outranks no mark, but its role stands first', () => {
    const first = rewrite(whole, 'manometer', (tS, text) =>
      within(tS, whole.strokes[0]!.makeS - 0.5, whole.strokes[0]!.makeS + 0.5) ? null : text,
    )
    expect(reasons(first)[0]).toBe('first-stroke')
  })
})

describe('Every value stands in its interval', () => {
  const result = resultFrom(whole.events)
  test.each(result.cycles.map((c) => [c.stroke, c] as const))('of stroke %i', (_, c) => {
    expect(c.makeLoPa!).toBeLessThanOrEqual(c.makePa!)
    expect(c.makeHiPa!).toBeGreaterThanOrEqual(c.makePa!)
    expect(c.breakLoPa!).toBeLessThanOrEqual(c.breakPa!)
    expect(c.breakHiPa!).toBeGreaterThanOrEqual(c.breakPa!)
    const ratePaPerS = [1.2, 1.2, 3][(c.stroke - 1) % 3]!
    expect(Math.abs(c.makeRatePaPerS! - ratePaPerS)).toBeLessThan(0.25)
    expect(Math.abs(c.breakRatePaPerS! - ratePaPerS)).toBeLessThan(0.25)
  })
})

test('A wild reading now and then, and a line that cannot be read, cost nothing.', () => {
  const wild = rewrite(whole, 'manometer', (tS, text) => {
    const k = Math.round(tS * 10)
    return k % 97 === 0 ? '-1.90000 inH2O\r\n' : k % 89 === 0 ? '-0.2#4 inH2O\r\n' : text
  })
  const [noisy, plain] = [resultFrom(wild.events), resultFrom(whole.events)]
  expect(noisy.verdict).toBe('pass')
  // One in a hundred of each is told, and no more.
  expect(noisy.findings.map((f) => [f.code, f.effect])).toEqual([
    ['unreadable-lines', 'note'],
    ['implausible-readings', 'note'],
  ])
  expect(Math.abs(noisy.make.valuePa! - plain.make.valuePa!)).toBeLessThan(0.2)
  expect(Math.abs(noisy.break.valuePa! - plain.break.valuePa!)).toBeLessThan(0.2)
})
