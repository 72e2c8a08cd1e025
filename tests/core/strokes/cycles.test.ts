import { describe, expect, test } from 'vitest'
import { findStrokes, initialLiveTracker, type Stroke, trackLive } from '../../../src/core/intake/stroke-tracker.ts'
import type { Mark } from '../../../src/core/model/marks.ts'
import { chatters, findCycles, isInverted } from '../../../src/core/strokes/cycles.ts'
import type { Edge } from '../../../src/core/strokes/edges.ts'
import { trackRows } from '../../harness/pressure-rows.ts'

const second = 1e6
const edge = (tS: number, to: boolean, readings = 2): Edge => ({
  loUs: (tS - 0.2) * second,
  hiUs: tS * second,
  to,
  closes: to,
  bounces: 0,
  readings,
})
/** Strokes of 20 s from 10 s on, every 30 s; each makes at 8 s and breaks at 14 s of it. */
const stroke = (i: number): Stroke => {
  const startUs = (10 + 30 * i) * second
  return { startUs, peakUs: startUs + 11 * second, endUs: startUs + 20 * second, peakPa: 78 }
}
const strokes = [0, 1, 2, 3, 4].map(stroke)
const edges = strokes.flatMap(({ startUs }) => [edge(startUs / second + 8, true), edge(startUs / second + 14, false)])
const mark = (tS: number, name: Mark['mark']): Mark => ({ tUs: tS * second, mark: name, text: null })

describe('The role of each stroke', () => {
  const roles = (marks: readonly Mark[]) => findCycles({ strokes, open: null }, edges, marks).map((c) => c.role)

  test('without marks: the first is apart, every later one counts', () => {
    expect(roles([])).toEqual(['first-stroke', 'counted', 'counted', 'counted', 'counted'])
  })
  test('strokes begun between precondition and cycles do not count', () => {
    expect(roles([mark(35, 'precondition'), mark(95, 'cycles')])).toEqual([
      'first-stroke',
      'precondition',
      'precondition',
      'counted',
      'counted',
    ])
  })
  test('a stroke that was on its way when the mark came keeps the role it began with', () => {
    expect(roles([mark(35, 'precondition'), mark(75, 'cycles')])[2]).toBe('precondition')
    expect(roles([mark(45, 'precondition')])[1]).toBe('counted')
  })
  test('the first stroke is that whatever the marks say, and other marks change nothing', () => {
    expect(roles([mark(1, 'cycles'), mark(40.1, 'hold'), mark(50, 'note'), mark(69, 'zero')])).toEqual(roles([]))
  })
})

describe('discard-cycle', () => {
  const voided = (tS: number) =>
    findCycles({ strokes, open: null }, edges, [mark(tS, 'discard-cycle')]).flatMap((c) =>
      c.why === 'discarded' ? [c.stroke] : [],
    )
  test('voids the stroke in progress', () => expect(voided(45)).toEqual([2]))
  test('else the last one', () => expect(voided(65)).toEqual([2]))
  test('and nothing before the first', () => expect(voided(5)).toEqual([]))
  test('while a stroke is in progress the last one is not taken for it', () => {
    const [first] = findCycles({ strokes: [strokes[0]!], open: strokes[1]! }, edges, [mark(45, 'discard-cycle')])
    expect(first!.why).toBeNull()
  })
})

describe('Make and break of a stroke', () => {
  const cycle = (own: readonly Edge[]) => findCycles({ strokes: strokes.slice(0, 2), open: null }, own, [])[0]!
  test('are its first change to actuated and its last change back', () => {
    const own = [edge(18, true), edge(19, false), edge(20, true), edge(24, false)]
    expect(cycle(own)).toMatchObject({ make: own[0], break: own[3] })
  })
  test('are none that one reading alone shows, where another holds', () => {
    const own = [
      edge(14, true, 1),
      edge(14.2, false),
      edge(18, true),
      edge(24, false),
      edge(26, true, 1),
      edge(26.2, false),
    ]
    expect(cycle(own)).toMatchObject({ make: own[2], break: own[3] })
    expect(cycle(own.slice(0, 2))).toMatchObject({ make: own[0], break: own[1] })
  })
  test('may fall into the rest after it, up to the next stroke', () => {
    expect(cycle([edge(18, true), edge(39, false)]).break).not.toBeNull()
    expect(cycle([edge(18, true), edge(41, false)]).break).toBeNull()
  })
  test('and no further: what the stroke still in progress has done is not theirs', () => {
    const [first] = findCycles({ strokes: [strokes[0]!], open: strokes[1]! }, edges, [])
    expect(first).toMatchObject({ edges: [edges[0], edges[1]], make: edges[0], break: edges[1] })
  })
  test('a break needs a make before it', () => {
    expect(cycle([edge(24, false)])).toMatchObject({ make: null, break: null })
  })
})

test('A cycle is inverted where the pair rests on the rise and is actuated on the fall.', () => {
  const [inverted] = findCycles({ strokes: [strokes[0]!], open: null }, [edge(18, false), edge(24, true)], [])
  const [right] = findCycles({ strokes: [strokes[0]!], open: null }, [edge(18, true), edge(24, false)], [])
  expect([isInverted(inverted!), isInverted(right!)]).toEqual([true, false])
  // One that only fell open in mid-stroke, on the way down, is not.
  expect(isInverted(findCycles({ strokes: [strokes[0]!], open: null }, [edge(24, false)], [])[0]!)).toBe(false)
})

describe('Chatter is at least three transitions within a tenth of the rated point of the trip', () => {
  // Drawn from 10 s on to 77 Pa, and let go; from 32 s on once more, without a rest between.
  const suctionPa = (tS: number) => 77 - 7 * Math.abs(tS - 11)
  const track = trackRows(
    Array.from({ length: 440 }, (_, i) => ({
      tUs: (10 + i / 10) * second,
      pressurePa: Math.max(suctionPa(i / 10), suctionPa(i / 10 - 22)),
    })),
  )
  const says = (times: readonly number[]) =>
    chatters(
      findCycles(
        { strokes: [strokes[0]!], open: null },
        times.map((t, i) => edge(t, i % 2 === 0)),
        [],
      )[0]!,
      62.3,
      track,
    )
  test('on the way up', () => expect(says([18, 18.3, 18.6, 24])).toBe(true))
  test('on the way down', () => expect(says([18, 25, 25.3, 25.6])).toBe(true))
  test('on the way up of a second draw, without a vent before it', () => {
    expect(says([18, 24, 40, 40.3, 40.6, 46])).toBe(true)
    expect(says([18, 24, 40, 46])).toBe(false)
  })
  test('not where the pressure went on between them, however near each other a make and a break lie', () => {
    expect(says([18, 23.9, 40])).toBe(false)
  })
  test('not with two of them', () => expect(says([18, 25])).toBe(false))
  test('not where they lie farther apart than that: an opening while held is another matter', () => {
    expect(says([18, 19.9, 20.2, 27])).toBe(false)
  })
})

describe('A stroke leaves below 0.2 S and returns there', () => {
  const ratedPa = 62.3
  const follow = (pressures: readonly number[]) =>
    findStrokes(trackRows(pressures.map((pressurePa, i) => ({ tUs: i, pressurePa }))), ratedPa)
  test('with its peak, its start at the first reading above and its end at the first back below', () => {
    expect(follow([0, 5, 20, 60, 78, 50, 20, 10, 0])).toEqual({
      strokes: [{ startUs: 2, peakUs: 4, endUs: 7, peakPa: 78 }],
      open: null,
    })
  })
  test('a wobble that stays under 0.3 S is none', () => {
    expect(follow([0, 15, 18, 15, 0]).strokes).toEqual([])
    expect(follow([0, 15, 19, 15, 0]).strokes).toHaveLength(1)
  })
  test('one that was on its way when the readings began is none: neither its zero nor its start was seen', () => {
    expect(follow([60, 70, 78, 40, 5, 0, 30, 78, 40, 0]).strokes).toMatchObject([{ startUs: 6, endUs: 9 }])
    expect(follow([60, 70, 78]).open).toBeNull()
  })
  test('one that is not over is open', () => {
    expect(follow([0, 20, 60]).open).toMatchObject({ startUs: 1, peakPa: 60 })
    expect(follow([]).open).toBeNull()
  })
  test('live, with the zero of the first rest taken off', () => {
    let tracker = initialLiveTracker
    const raw = [...Array(20).fill(2), 30, 62, 80, 40, 14, 2, 2, 40, 70, 10]
    raw.forEach((rawPa, i) => {
      tracker = trackLive(tracker, i, rawPa, ratedPa)
    })
    expect(tracker.zeroPa).toBeCloseTo(2, 12)
    expect(tracker.count).toBe(2)
  })
})
