// Every stroke is evidence, used or not: what one stroke of many shows keeps a part from a pass.
import { describe, expect, test } from 'vitest'
import { rewrite, withEvents } from '../../harness/foreign-recording.ts'
import { found, judged, session, within } from './sessions.ts'

const open = '+9.9E+37\n'
const closed = '+3.1E-01\n'
const seven = session({ cycles: 7, ratePaPerS: () => 1.5 })
/** The seventh of eight strokes; what comes after it, and the one before. */
const [sixth, seventh, eighth] = seven.strokes.slice(5)

/** The same with long rests; the last two strokes are brisk. It passes. */
const restS = 9
const resting = session({
  cycles: 7,
  ratePaPerS: (stroke) => (stroke > 5 ? 3 : 1.2),
  restsS: { before: 12, between: restS, after: 12 },
})

describe('did-not-make', () => {
  const missed = (from: number, to: number) =>
    rewrite(seven, 'meter', (tS, text) => (within(tS, from, to) ? open : text))

  test('one stroke of eight that went beyond the high limit without a make keeps the part from a pass', () => {
    const once = missed(seventh!.startS, eighth!.startS)
    expect(found(once)).toEqual([['did-not-make', 'undecided']])
    expect(judged(once).verdict).toBe('undecided')
    expect(judged(once).acted).toEqual({ strokes: 8, made: 7, released: 7, discarded: 0 })
    expect(judged(once).findings[0]!.text).toMatch(/did not make up to .* in stroke 7\. See that both leads hold/)
  })
  test('in the first stroke, which does not count, too', () => {
    expect(judged(missed(0, seven.strokes[1]!.startS)).verdict).toBe('undecided')
  })
  test('fails where COM–NC still conducts: no lead that fell off does that', () => {
    const nc = session({ cycles: 7, wired: 'com-nc', rig: { meter: { pair: 'com-nc' } } })
    expect(judged(nc).verdict).toBe('pass')
    const [from, to] = [nc.strokes[6]!.startS, nc.strokes[7]!.startS]
    const conducts = rewrite(nc, 'meter', (tS, text) => (within(tS, from, to) ? closed : text))
    expect(found(conducts)).toEqual([['did-not-make', 'fail']])
  })
  test('keeps it from a pass below the limit too, where the pressure stayed beyond all other makes', () => {
    const brisk = { cycles: 7, ratePaPerS: (n: number) => (n > 5 ? 3 : 1.2), peakPa: 67, kickPa: 0 }
    const low = session(brisk)
    const [from, to] = [low.strokes[3]!.startS, low.strokes[4]!.startS]
    expect(judged(low).verdict).toBe('pass')
    const once = rewrite(low, 'meter', (tS, text) => (within(tS, from, to) ? open : text))
    expect(found(once)).toEqual([['did-not-make', 'undecided']])
  })
  test('is said too where the meter was silent for a while and was read open beyond the limit', () => {
    const [from, to] = [seventh!.makeS - 1, seventh!.makeS + 0.5]
    const gap = rewrite(missed(seventh!.startS, eighth!.startS), 'meter', (tS, text) =>
      within(tS, from, to) ? null : text,
    )
    expect(found(gap).map(([code]) => code)).toContain('did-not-make')
  })
  test('is not said where the meter was silent in that stroke', () => {
    const silent = rewrite(seven, 'meter', (tS, text) => (within(tS, seventh!.startS, eighth!.startS) ? null : text))
    expect(found(silent)).toEqual([['unseen-strokes', 'undecided']])
  })
})

describe('a stroke that is drawn twice without a vent', () => {
  const { events, ...rest } = session({
    cycles: 6,
    ratePaPerS: (n) => (n > 4 ? 3 : 1.2),
    restsS: { before: 12, between: 0, after: 12 },
  })
  const [, third, fourth] = rest.strokes.slice(1)
  // The bench goes down to 24 Pa only between the two.
  const joined = rewrite({ events, ...rest }, 'manometer', (tS, text) =>
    within(tS, third!.breakS, fourth!.makeS) && Math.abs(Number.parseFloat(text)) < 0.097 ? '-0.097 inH2O\r\n' : text,
  )
  test('passes where the switch made and let go in both, drawn twice without a vent', () => {
    expect(judged(joined).cycles).toHaveLength(6)
    expect(found(joined)).toEqual([])
    expect(judged(joined).verdict).toBe('pass')
  })
  test('does not where it did not make the first time, drawn twice without a vent', () => {
    const missed = rewrite(joined, 'meter', (tS, text) => (within(tS, third!.startS, third!.endS) ? open : text))
    expect(found(missed)).toContainEqual(['did-not-make', 'undecided'])
    expect(judged(missed).verdict).not.toBe('pass')
  })
})

describe('unseen-strokes', () => {
  const [stroke, next] = resting.strokes.slice(4)
  const silent = (port: 'meter' | 'manometer', fromS: number, toS: number, of = resting) =>
    rewrite(of, port, (tS, text) => (within(tS, fromS, toS) ? null : text))
  const { makeS, breakS, peakS, startS, endS } = stroke!

  test.each([
    ['the meter from the fall until the next stroke', silent('meter', breakS - 1, next!.startS)],
    ['the manometer from the peak until the next stroke', silent('manometer', peakS, next!.startS)],
    ['the manometer from far below the make to far above', silent('manometer', startS + 1, peakS)],
    ['the meter in the whole last stroke', silent('meter', resting.strokes.at(-1)!.startS, 1e9)],
  ])('tells of %s, and the part does not pass', (_, recording) => {
    expect(found(recording)).toContainEqual(['unseen-strokes', 'undecided'])
    expect(judged(recording).verdict).toBe('undecided')
  })
  test.each([
    ['where nothing trips', silent('meter', peakS - 0.7, peakS + 0.7)],
    ['at rest', silent('manometer', endS + 1, next!.startS - 1)],
    ['for so short that the make lies well inside its limits', silent('meter', makeS - 0.3, makeS + 0.5)],
  ])('a gap %s keeps no good part from a pass', (_, recording) => {
    expect(found(recording)).toEqual([])
    expect(judged(recording).verdict).toBe('pass')
  })

  const bad = {
    'no make': rewrite(resting, 'meter', (tS, text) => (within(tS, startS, next!.startS) ? open : text)),
    'no release': rewrite(resting, 'meter', (tS, text) => (within(tS, breakS, next!.startS) ? closed : text)),
    'a make at a third of the rated point': rewrite(resting, 'meter', (tS, text) =>
      within(tS, startS + (makeS - startS) / 3, makeS) ? closed : text,
    ),
  }
  const spans = [-1, 0, 0.3, 0.5, 0.8, 1, 1.2].flatMap((from) => [0.5, 1.5, 5, 60].map((forS) => ({ from, forS })))
  test.each(Object.entries(bad))('no silence of either instrument makes a part pass that shows %s', (_, recording) => {
    expect(judged(recording).verdict).not.toBe('pass')
    for (const port of ['meter', 'manometer'] as const)
      for (const { from, forS } of spans) {
        const fromS = startS + from * (endS - startS)
        const result = judged(silent(port, fromS, Math.min(fromS + forS, next!.startS + 1), recording))
        expect([port, from, forS, result.verdict]).not.toContain('pass')
      }
  })
})

describe('stayed-made', () => {
  const [, stuck, next] = resting.strokes.slice(5)
  const stays = (forS: number) =>
    rewrite(resting, 'meter', (tS, text) => (within(tS, stuck!.breakS, stuck!.endS + forS) ? closed : text))

  test('a part that lets go in each stroke passes', () => expect(judged(resting).verdict).toBe('pass'))
  test('fails where it conducts for longer than the lags allow once it was vented, in one stroke of eight', () => {
    expect(found(stays(5))).toEqual([['stayed-made', 'fail']])
    expect(judged(stays(5)).verdict).toBe('fail')
  })
  test('fails in a stroke that was discarded too', () => {
    const discarded = withEvents(stays(5), [
      { type: 'mark', t: Math.round((next!.startS - 1) * 1e6), mark: 'discard-cycle' },
    ])
    expect(judged(discarded).verdict).toBe('fail')
  })
  test('is undecided where the next stroke began before it let go', () => {
    const through = rewrite(seven, 'meter', (tS, text) =>
      within(tS, sixth!.makeS + 0.5, seventh!.peakS) ? closed : text,
    )
    expect(found(through).map(([code]) => code)).toContain('stayed-made')
    expect(judged(through).verdict).not.toBe('pass')
  })
  test('a quick vent of a good part is no fault of it', () => {
    const quick = session({ cycles: 7, ratePaPerS: (stroke) => (stroke === 4 ? 25 : 1.5), contactDelayS: 0.3 })
    expect(found(quick)).toEqual([])
  })
})

describe('sticky-first-break', () => {
  test('a first break far from the rest is undecided, also where the part states no break limit', () => {
    const limits = { make: { low: 0.22, high: 0.28, unit: 'inH2O' } }
    const late = session({ cycles: 6, shiftPa: (stroke) => (stroke === 0 ? -2.5 : 0), part: { limits } })
    expect(found(late)).toEqual([['sticky-first-break', 'undecided']])
    expect(judged(late).verdict).toBe('undecided')
  })
})

describe('conducts-at-rest', () => {
  const [before, stroke, next] = resting.strokes.slice(3)
  const closes = (fromS: number, toS: number) =>
    rewrite(resting, 'meter', (tS, text) => (within(tS, fromS, toS) ? closed : text))
  const rise = (share: number) => stroke!.startS + share * (stroke!.makeS - stroke!.startS)
  test.each([
    ['at rest between two strokes', closes(before!.endS + 5, before!.endS + 6)],
    ['at rest before the first stroke', closes(4, 6)],
    ['from the rest on, until well below its make', closes(stroke!.startS - 1, rise(0.15))],
    ['on the rise, far below its make, and opens again', closes(rise(0.02), rise(0.15))],
    ['at rest after the last stroke', closes(resting.strokes.at(-1)!.endS + 5, resting.strokes.at(-1)!.endS + 6)],
  ])('a contact that closes %s fails the part', (_, recording) => {
    expect(judged(recording).verdict).toBe('fail')
  })
  test('one stroke in which it opens on the rise and closes on the fall is told, and no pass', () => {
    const turned = rewrite(resting, 'meter', (tS, text) =>
      within(tS, before!.endS + 4, rise(0.4)) || within(tS, stroke!.breakS, stroke!.endS + 2)
        ? closed
        : within(tS, rise(0.4), stroke!.breakS)
          ? open
          : text,
    )
    expect(judged(turned).verdict).toBe('fail')
    expect(found(turned)).toContainEqual(['did-not-make', 'undecided'])
  })
  test('one single closed reading is no proof, and keeps the part from a pass', () => {
    const lone = closes(before!.endS + 5, before!.endS + 5.2)
    expect(found(lone)).toContainEqual(['conducts-at-rest', 'undecided'])
    expect(judged(lone).verdict).toBe('undecided')
  })
  test('a make that the manometer did not see, and what follows it, does not speak against the part', () => {
    const unseen = rewrite(resting, 'manometer', (tS, text) =>
      within(tS, stroke!.makeS - 8, stroke!.breakS - 5) ? null : text,
    )
    expect(found(unseen)).toEqual([['unseen-strokes', 'undecided']])
  })
  test('no reading from the make to the release speaks against the part', () => {
    expect(next!.startS).toBeGreaterThan(stroke!.endS)
    expect(judged(resting).verdict).toBe('pass')
  })
})

test('a part that states no limit on its dangerous side is not assessed', () => {
  const high = { limits: { make: { low: null, high: 0.28, unit: 'inH2O' } } }
  expect(judged(session({ part: high })).verdict).toBe('not-assessed')
  expect(judged(session({ part: { limits: null, contact: { maxOhm: 2 } } })).verdict).toBe('not-assessed')
  const low = { limits: { make: { low: 0.22, high: null, unit: 'inH2O' } } }
  expect(judged(session({ part: low })).verdict).toBe('pass')
})

test('a fail that a verdict of void outranks is told beside it', () => {
  const both = session({ offsetPa: () => 4, contactOhm: () => 2.5 })
  expect(judged(both).verdict).toBe('void')
  expect(judged(both).beside).toMatch(/^The closed contact measures 2\.5 Ω/)
  expect(judged(session()).beside).toBeNull()
})
