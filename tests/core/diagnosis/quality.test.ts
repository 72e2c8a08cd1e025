import { describe, expect, test } from 'vitest'
import { type ForeignRecording, rewrite } from '../../harness/foreign-recording.ts'
import { found, judged, session } from './sessions.ts'

const good = session({ manometerS: 0.05 })
const none = { unreadable: 0, implausible: 0, gaps: 0, clumps: 0 }
const countOf = (recording: ForeignRecording, port: string) =>
  recording.events.filter((e) => e.type === 'rx' && e.port === port).length

/** Every `n`-th line of a port rewritten. */
const each = (n: number, port: 'manometer' | 'meter', change: (text: string) => string) => {
  let i = 0
  return rewrite(good, port, (_, text) => (++i % n === 0 ? change(text) : text))
}

test('A good bench has only its lines in the result.', () => {
  // The first line of a port may be half of one: no driver reads it.
  expect(judged(good).quality).toEqual({
    manometer: { lines: countOf(good, 'manometer') - 1, ...none },
    meter: { lines: countOf(good, 'meter') - 1, ...none },
  })
  expect(found(good)).toEqual([])
})

describe.each(['manometer', 'meter'] as const)('unreadable-lines of the %s', (port) => {
  const spoilt = (n: number) => each(n, port, (text) => `?x?${text.slice(-2)}`)
  test('are counted, told from one in a hundred on, and decide nothing from one in ten on', () => {
    const few = spoilt(300)
    expect(judged(few).quality[port]!.unreadable).toBe(Math.floor(countOf(few, port) / 300))
    expect(found(few)).toEqual([])
    expect(found(spoilt(40))).toEqual([['unreadable-lines', 'note']])
    expect(found(spoilt(5)).filter(([code]) => code === 'unreadable-lines')).toEqual([
      ['unreadable-lines', 'undecided'],
    ])
  })
})

test('implausible-readings jump away and back: counted, told, and too many decide nothing.', () => {
  const wild = (n: number) => each(n, 'manometer', () => '-3.00000 inH2O\r\n')
  expect(judged(wild(300)).quality.manometer!.implausible).toBe(Math.floor(countOf(good, 'manometer') / 300))
  expect(found(wild(300))).toEqual([])
  expect(found(wild(40))).toEqual([['implausible-readings', 'note']])
  expect(judged(wild(40)).make.valuePa).toBeCloseTo(judged(good).make.valuePa!, 1)
  expect(found(wild(7)).find(([code]) => code === 'implausible-readings')).toEqual([
    'implausible-readings',
    'undecided',
  ])
})

describe('clumped-readings', () => {
  /** The lines of `clump` in a row arrive with the last of them, `everyth` line it begins. */
  const clumped = (everyth: number, clump: number): ForeignRecording => {
    const lines = good.events.filter((e) => e.type === 'rx' && e.port === 'manometer')
    const late = new Map(
      lines.map((e, i) => {
        const start = i - (i % everyth)
        return [e, i - start < clump ? (lines[start + clump - 1] ?? lines.at(-1))!.t! : e.t!]
      }),
    )
    const events = good.events.map((e) => (late.has(e) ? { ...e, t: late.get(e)! } : e))
    return { ...good, events: events.toSorted((a, b) => (a.t ?? 0) - (b.t ?? 0)) }
  }
  test('are told with what to do, and decide nothing where most lines came so', () => {
    expect(found(clumped(500, 4))).toEqual([])
    const some = clumped(60, 4)
    expect(found(some)).toEqual([['clumped-readings', 'note']])
    expect(judged(some).findings[0]!.text).toContain('latency timer')
    expect(judged(some).quality.manometer!.clumps).toBeGreaterThan(20)
    expect(judged(some).verdict).toBe('pass')
    const most = clumped(8, 7)
    expect(found(most)).toEqual([['clumped-readings', 'undecided']])
    expect(judged(most).make.valuePa).toBeCloseTo(judged(good).make.valuePa!, 0)
  })
})

describe('zeroing-pauses', () => {
  /** The manometer sends nothing for `forS` from each of `fromS` on. */
  const silent = (fromS: readonly number[], forS: (i: number) => number): ForeignRecording => ({
    ...good,
    events: good.events.filter(
      ({ type, port, t = 0 }) =>
        type !== 'rx' || port !== 'manometer' || !fromS.some((from, i) => t > from * 1e6 && t < (from + forS(i)) * 1e6),
    ),
  })
  const lastS = good.events.at(-1)!.t! / 1e6
  const beat = (everyS: number) => Array.from({ length: Math.floor(lastS / everyS) - 1 }, (_, i) => 7 + everyS * i)
  test('are told with their length and their beat, and decide nothing by themselves', () => {
    const recording = silent(beat(20), () => 0.7)
    const finding = judged(recording).findings.find(({ code }) => code === 'zeroing-pauses')
    expect(finding).toMatchObject({ effect: 'note', evidence: { pauses: beat(20).length } })
    expect(finding!.text).toMatch(/nothing for 0\.7\d s every 20 s, as one that zeroes itself does/)
  })
  test('are not said of two, of uneven ones, or of pauses without a beat', () => {
    const codes = (recording: ForeignRecording) => found(recording).map(([code]) => code)
    expect(codes(silent(beat(20).slice(0, 2), () => 0.7))).not.toContain('zeroing-pauses')
    expect(codes(silent(beat(20), (i) => (i % 2 === 0 ? 0.7 : 2)))).not.toContain('zeroing-pauses')
    const uneven = beat(20).map((s, i) => s + (i % 2 === 0 ? 0 : 9))
    expect(codes(silent(uneven, () => 0.7))).not.toContain('zeroing-pauses')
  })
})

describe('A machine that is suspended in a stroke', () => {
  const [, , third] = good.strokes
  const asleep = (fromS: number, toS: number): ForeignRecording => ({
    ...good,
    events: good.events.filter(({ type, t = 0 }) => type === 'end' || t < fromS * 1e6 || t > toS * 1e6),
  })
  test('voids it, also away from its trips, and counts as a gap of both ports', () => {
    const { cycles, quality } = judged(asleep(third!.peakS - 4, third!.peakS - 0.5))
    expect(cycles.map((c) => c.why)).toEqual(['first-stroke', null, 'gap', null, null, null])
    expect([quality.manometer!.gaps, quality.meter!.gaps]).toEqual([1, 1])
  })
  test('and not where it slept between two strokes', () => {
    const long = session({ manometerS: 0.05, restsS: { before: 13, between: 8, after: 15 } })
    const [, , stroke] = long.strokes
    const [fromUs, toUs] = [(stroke!.endS + 2) * 1e6, (stroke!.endS + 6) * 1e6]
    const events = long.events.filter(({ t = 0 }) => t < fromUs || t > toUs)
    expect(judged({ ...long, events }).cycles.map((c) => c.why)).toEqual(['first-stroke', null, null, null, null, null])
  })
})
