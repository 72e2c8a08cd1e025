import { describe, expect, test } from 'vitest'
import { resultOf } from '../../../src/core/judge.ts'
import { pressureUnits } from '../../../src/core/model/units.ts'
import { foldEvents } from '../../harness/fold-events.ts'
import { type ForeignRecording, mark, rewrite, withEvents } from '../../harness/foreign-recording.ts'
import { found, judged, ratedPa, session, within } from './sessions.ts'

const inMillimetres = (text: string) => `${(Number.parseFloat(text) * 25.4).toFixed(3)} mmH2O\r\n`
const good = session()
const [, , third, fourth] = good.strokes
const last = good.strokes.at(-1)
const changedFrom = (recording: ForeignRecording, fromS: number) =>
  rewrite(recording, 'manometer', (tS, text) => (tS < fromS ? text : inMillimetres(text)))

describe('unit-changed', () => {
  test('is void whenever the unit text changes', () => {
    const recording = changedFrom(good, third!.startS)
    expect(found(recording)).toEqual([['unit-changed', 'void']])
    expect(judged(recording).verdict).toBe('void')
  })
  describe.each([2.49, 9.80665, 249.08891, 100, 6.894757, 1 / 249.08891])('without a word, by %d', (ratio) => {
    const bare = (fromS: number) =>
      rewrite(good, 'manometer', (tS, text) => `${(Number.parseFloat(text) * (tS < fromS ? 1 : ratio)).toFixed(6)}\r\n`)
    test('in a stroke is void', () => {
      const recording = bare(third!.makeS + (ratio > 1 ? -2 : 2))
      expect(found(recording)).toContainEqual(['unit-changed', 'void'])
      expect(judged(recording).verdict).toBe('void')
    })
    // Less than a five hundredth of all pressures is not a stroke any more.
    test.runIf(ratio > 1)('at rest is void', () => {
      expect(found(bare(third!.startS - 1))).toContainEqual(['unit-changed', 'void'])
    })
  })
  test('is not said of a unit that stays', () => {
    const all = rewrite(good, 'manometer', (_, text) => inMillimetres(text))
    expect(found(all)).toEqual([])
    expect(judged(all).verdict).toBe('pass')
  })
})

describe('frozen-reading', () => {
  const frozen = (fromS: number, toS: number) => {
    let shown = ''
    return rewrite(good, 'manometer', (tS, text) => {
      if (!within(tS, fromS, toS)) shown = text
      return shown
    })
  }
  test('is void where the display stood still while the pressure changed', () => {
    const recording = frozen(third!.makeS - 3, third!.makeS + 1.5)
    expect(found(recording)).toEqual([['frozen-reading', 'void']])
    expect(judged(recording).verdict).toBe('void')
  })
  test.each([1.5, 2, 2.5])('for %d s, by what was due meanwhile, and across the trip', (forS) => {
    expect(found(frozen(third!.makeS - 5, third!.makeS - 5 + forS))).toEqual([['frozen-reading', 'void']])
    // Across the trip the kick takes part of what was due.
    if (forS > 1.5)
      expect(found(frozen(last!.makeS - forS + 0.3, last!.makeS + 0.3))).toEqual([['frozen-reading', 'void']])
  })
  test('is void where a line says that it is held', () => {
    const held = rewrite(good, 'manometer', (tS, text) =>
      within(tS, third!.peakS, third!.peakS + 0.5) ? text.replace(' inH2O', ' inH2O HOLD') : text,
    )
    expect(found(held)).toEqual([['frozen-reading', 'void']])
    expect(judged(held).findings[0]!.evidence['heldLines']).toBe(5)
  })
  test('is not said of a display that rests while the hand does', () => {
    expect(found(session({ noisePa: 0, restsS: { before: 13, between: 8, after: 15 } }))).toEqual([])
  })
})

describe('water-in-line', () => {
  test('is void where the vented manometer shows more than 5 % of the rated point', () => {
    for (const offset of [4, -4]) {
      const recording = session({ offsetPa: () => offset })
      expect(found(recording)).toEqual([['water-in-line', 'void']])
      expect(judged(recording).verdict).toBe('void')
    }
  })
  test('is not said of 4 %', () => expect(found(session({ offsetPa: () => 0.04 * ratedPa }))).toEqual([]))
})

describe('zero-moved', () => {
  const rests = { restsS: { before: 13, between: 8, after: 14 }, cycles: 8 }
  const knockS = session(rests).strokes[2]!.endS + 1
  const knocked = (pa: number) => session({ ...rests, digitPa: 0.025, offsetPa: (tS) => (tS > knockS ? pa : 0) })
  test('is void where it moved by more than the uncertainty', () => {
    const recording = knocked(3)
    expect(found(recording)).toEqual([['zero-moved', 'void']])
    expect(judged(recording).verdict).toBe('void')
    expect(found(knocked(-3))).toEqual([['zero-moved', 'void']])
  })
  test('is a note where it was small enough to correct', () => {
    const result = judged(knocked(0.5))
    expect(result.findings.map((f) => [f.code, f.effect])).toEqual([['zero-moved', 'note']])
    expect(result.verdict).toBe('pass')
    expect(result.findings[0]!.evidence['movedPa']).toBeCloseTo(0.5, 1)
  })
  test('is not said of less than a fifth of the uncertainty, nor of one coarse digit', () => {
    expect(found(knocked(0.15))).toEqual([])
    const digitPa = 0.002 * 249.08891
    expect(found(session({ digitPa, offsetPa: (tS) => (tS > third!.endS + 1 ? digitPa : 0) }))).toEqual([])
  })
})

describe('plugged-line', () => {
  const plugged = (hoseS: number, seed = 1) =>
    session({ hoseS, seed, cycles: 8, scatterPa: 0.1, ratePaPerS: (stroke) => [0.8, 2.4][stroke % 2]! })
  test('is undecided where the hose delays the switch by over 2 s', () => {
    const recording = plugged(2.6)
    expect(found(recording)).toEqual([['plugged-line', 'undecided']])
    expect(judged(recording).verdict).toBe('undecided')
  })
  test('is a note from half a second on', () => {
    const recording = plugged(1.2)
    expect(found(recording)).toEqual([['plugged-line', 'note']])
    expect(judged(recording).verdict).toBe('pass')
  })
  // One trip whose rate was read off the fall of its kick once hid the hose from the others.
  test('is seen whatever one trip among them looks like', () => {
    for (const seed of [2, 3]) expect(found(plugged(1.2, seed))).toEqual([['plugged-line', 'note']])
  })
  test('is not said of less', () => expect(found(plugged(0.3))).toEqual([]))
})

describe('jerky-draw', () => {
  /** The reading stays, a digit to and fro, until more than `leapPa` is due: as a plunger that sticks and slips. */
  const leaping = (leapPa: number, recording = good) => {
    const digit = 0.001
    let stuckAt = 0
    let line = 0
    return rewrite(recording, 'manometer', (_, text) => {
      const shown = Number.parseFloat(text)
      if (Math.abs(shown - stuckAt) * pressureUnits.inH2O > leapPa || Math.abs(shown) < 0.05) stuckAt = shown
      return `${(stuckAt + (line++ % 2 === 0 ? digit : 0)).toFixed(5)} inH2O\r\n`
    })
  }
  const jerks = (recording: ForeignRecording) => found(recording).filter(([code]) => code === 'jerky-draw')

  test('is told where the pressure goes past most trips in leaps, and leaves the part undecided', () => {
    const recording = leaping(1.8)
    expect(jerks(recording)).toEqual([['jerky-draw', 'undecided']])
    expect(judged(recording).verdict).not.toBe('pass')
  })
  test('is not told of leaps too small to matter, nor of a hand whose pace is uneven', () => {
    expect(jerks(leaping(0.3))).toEqual([])
    expect(jerks(session({ ratePaPerS: (stroke) => [0.8, 3, 5][stroke % 3]! }))).toEqual([])
  })
  // The break lies where the hand has let go: slow before it, then all at once.
  test('is not told of a hand that vents past the break', () => {
    const vents = rewrite(good, 'manometer', (tS, text) => {
      const stroke = good.strokes.find((s) => tS > s.breakS - 0.3 && tS < s.endS)
      return stroke
        ? `${(Number.parseFloat(text) * Math.exp(-(tS - stroke.breakS + 0.3) / 0.5)).toFixed(5)} inH2O\r\n`
        : text
    })
    expect(jerks(vents)).toEqual([])
  })
  test('is not told of a display that renews itself twice a second', () => {
    let [shown, line] = ['', 0]
    const slow = rewrite(session({ ratePaPerS: () => 2.5 }), 'manometer', (_, text) => {
      if (line++ % 5 === 0) shown = text
      return shown
    })
    expect(jerks(slow)).toEqual([])
  })
})

describe('Ports', () => {
  test('on each other’s instrument are void, and that is told once', () => {
    const swapped = rewrite(
      rewrite(good, 'manometer', () => '0.31 ohm\r\n'),
      'meter',
      () => '-0.2501 inH2O\n',
    )
    expect(found(swapped)).toEqual([['ports-swapped', 'void']])
    expect(judged(swapped).findings[0]!.evidence).toMatchObject({ ports: 'manometer,meter' })
  })
  test('from which nothing readable came are undecided, and the fault is told', () => {
    const deaf = rewrite(good, 'meter', () => '??\n')
    expect(found(deaf)).toEqual([['no-reading', 'undecided']])
    expect(judged(deaf).findings[0]!.evidence).toMatchObject({ port: 'meter', last: expect.stringMatching(/\?\?/) })
    expect(judged(deaf).verdict).toBe('undecided')
    const silent = rewrite(good, 'manometer', () => null)
    expect(found(silent)).toEqual([['no-reading', 'undecided']])
  })
  test('are waited for: nothing is missed in the first seconds of a test that goes on', () => {
    const silent = rewrite(good, 'manometer', () => null)
    const upTo = (tS: number) => resultOf(foldEvents(silent.events.filter((e) => (e.t ?? 0) <= tS * 1e6)))
    expect(upTo(5)?.findings).toEqual([])
    expect(upTo(11)?.findings.map((f) => f.code)).toEqual(['no-reading'])
  })
})

describe('leaks', () => {
  /** After one stroke the line is held at 70 Pa, once for each time constant, decaying as a laminar leak does. */
  function held(holds: readonly { tauS: number; text: string }[]) {
    const plain = session({ cycles: 0, restsS: { before: 13, between: 3, after: 3 + 110 * holds.length } })
    const fromS = plain.strokes[0]!.endS + 5
    const offsetPa = (tS: number) => {
      const hold = holds[Math.floor((tS - fromS) / 110)]
      const since = (tS - fromS) % 110
      if (!hold || tS < fromS) return 0
      if (since < 10) return 7 * since
      return since > 80 ? 0 : 70 * Math.exp(-(since - 10) / hold.tauS)
    }
    const recording = session({
      cycles: 0,
      restsS: { before: 13, between: 3, after: 3 + 110 * holds.length },
      offsetPa,
      purpose: 'leak',
    })
    const marks = holds.map(({ text }, i) => mark(fromS + 110 * i + 10, 'leak-hold', text))
    return withEvents(recording, marks)
  }

  test('leaks-line is undecided where more than 2 % is lost in a minute', () => {
    const recording = held([{ tauS: 1000, text: 'line and switch' }])
    expect(found(recording)).toEqual([['leaks-line', 'undecided']])
    const { evidence } = judged(recording).findings[0]!
    // 60 s over a time constant of 1 000 s.
    expect(Math.abs(Number(evidence['lossPerMinute']) - 0.06)).toBeLessThan(0.002)
    expect(judged(recording).verdict).toBe('not-assessed')
  })
  test('leaks-diaphragm fails where the line alone was tight and with the switch it is not', () => {
    const ladder = [
      { tauS: 20_000, text: 'line' },
      { tauS: 1000, text: 'with switch' },
    ]
    expect(found(held(ladder))).toEqual([['leaks-diaphragm', 'fail']])
  })
  test('neither is said of 1.5 % a minute', () => {
    expect(found(held([{ tauS: 4000, text: 'line and switch' }]))).toEqual([])
  })
})

describe('A cause silences symptoms no graver than itself:', () => {
  const chattering = (recording: ForeignRecording) =>
    rewrite(recording, 'meter', (tS, text) => {
      const k = Math.floor((tS - fourth!.makeS) / 0.4)
      return k >= 0 && k < 4 ? (k % 2 === 0 ? '+3.1E-01\n' : '+9.9E+37\n') : text
    })
  const offset = { offsetPa: () => 4 }

  test('unit-changed stands before water-in-line and chatter', () => {
    const bad = chattering(changedFrom(session(offset), third!.startS))
    expect(found(bad)).toEqual([['unit-changed', 'void']])
  })
  test('frozen-reading beside unit-changed: both are causes', () => {
    const held = rewrite(changedFrom(good, third!.startS), 'manometer', (tS, text) =>
      within(tS, 2, 2.3) ? text.replace(' inH2O', ' inH2O HOLD') : text,
    )
    expect(
      found(held)
        .map(([code]) => code)
        .sort(),
    ).toEqual(['frozen-reading', 'unit-changed'])
  })
  test('on-nc-pair stands before water-in-line', () => {
    expect(found(session({ ...offset, wired: 'com-nc' }))).toEqual([['on-nc-pair', 'void']])
  })
  test('water-in-line stands before chatter', () => {
    expect(found(chattering(session(offset)))).toEqual([['water-in-line', 'void']])
  })
  test('chatter, which leaves it undecided, does not hide trips that scatter too far', () => {
    const wild = session({ scatterPa: 0.1, shiftPa: (stroke) => (stroke % 2 === 0 ? 3 : -3) })
    const { makeS } = wild.strokes[3]!
    const bad = rewrite(wild, 'meter', (tS, text) => {
      const k = Math.floor((tS - makeS) / 0.4)
      return k >= 0 && k < 4 ? (k % 2 === 0 ? '+3.1E-01\n' : '+9.9E+37\n') : text
    })
    expect(found(wild)).toEqual([['spread', 'fail']])
    expect(found(bad)).toEqual([
      ['spread', 'fail'],
      ['chatter', 'undecided'],
    ])
  })
  test('weakening stands before spread', () => {
    const falling = session({ cycles: 8, makePa: 67, scatterPa: 0.1, shiftPa: (stroke) => -1.1 * stroke })
    expect(found(falling)).toEqual([['weakening', 'undecided']])
  })
  test('what is no cause of the others is told beside them, the graver first', () => {
    const both = session({ ...offset, contactOhm: () => 2.5 })
    expect(found(both)).toEqual([
      ['water-in-line', 'void'],
      ['high-contact-resistance', 'fail'],
    ])
  })
})
