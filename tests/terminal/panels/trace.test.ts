// The trace against drawings: the picture is what a person would see.
import { describe, expect, test } from 'vitest'
import type { TracePoint } from '../../../src/core/view/live.ts'
import { drawTrace, drawTrack, traceFrame, traceRow } from '../../../src/terminal/panels/trace.ts'

const frame = { startS: 0, endS: 39, lowPa: 0, highPa: 70 }
const size = { columns: 40, rows: 8 }
const nothing = { points: [], trips: [], limitsPa: [] }

/** Up to 70 Pa in 20 s and down again, a point a second; actuated between 10 s and 30 s. */
const hill: TracePoint[] = Array.from({ length: 40 }, (_, i) => ({
  tS: i,
  pressurePa: i <= 20 ? 3.5 * i : 3.5 * (40 - i),
  actuated: i >= 10 && i < 30,
}))

describe('drawTrace', () => {
  test('draws a stroke as blocks, with trips on the curve and limits behind it', () => {
    const trips = [
      { tS: 15, stroke: 1, transition: 'make' as const, pressurePa: 52 },
      { tS: 30, stroke: 1, transition: 'break' as const, pressurePa: 35 },
      { tS: 31, stroke: 1, transition: 'break' as const, pressurePa: null },
    ]
    expect(drawTrace(frame, { points: hill, trips, limitsPa: [60, 20] }, size, 'block')).toEqual([
      '                   ▄▀▄                  ',
      '╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌▄▀▀╌╌╌▀▀▄╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌',
      '             ▄▄▲         ▀▄▄            ',
      '           ▄▀               ▀▄          ',
      '        ▄▀▀                   ▼▀▄       ',
      '╌╌╌╌╌▄▄▀╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌╌▀▄▄╌╌╌╌',
      '   ▄▀                               ▀▄  ',
      '▄▀▀                                   ▀▀',
    ])
  })

  test('shades from each limit to where its guard ends, and within the row of the limit where it ends there', () => {
    const guards = [
      { limitPa: 60, endPa: 42 },
      { limitPa: 20, endPa: 21 },
    ]
    expect(drawTrace(frame, { ...nothing, limitsPa: [60, 20], guards }, { columns: 9, rows: 8 }, 'block')).toEqual([
      '         ',
      '╌╌╌╌╌╌╌╌╌',
      '░░░░░░░░░',
      '░░░░░░░░░',
      '         ',
      '╌░╌╌░╌╌░╌',
      '         ',
      '         ',
    ])
  })

  test('draws the same stroke in braille, eight dots a cell', () => {
    expect(drawTrace(frame, { ...nothing, points: hill }, { columns: 20, rows: 4 })).toEqual([
      '        ⡠⠔⠑⠤⡀       ',
      '     ⢀⠔⠊    ⠈⠒⢄     ',
      '  ⢀⡠⠊⠁         ⠉⠢⣀  ',
      '⡠⠔⠁               ⠑⠤',
    ])
  })

  test('does not join points between which nothing was read', () => {
    const points = [0, 1, 2, 30, 31].map((tS) => ({ tS, pressurePa: 35, actuated: null }))
    expect(drawTrace(frame, { ...nothing, points }, { columns: 40, rows: 1 }, 'block')).toEqual([
      '▄▄▄                           ▄▄        ',
    ])
  })

  test('leaves out what is no number and what lies outside the frame', () => {
    const points = [Number.NaN, Number.POSITIVE_INFINITY, 500, -500].map((pressurePa, tS) => ({
      tS,
      pressurePa,
      actuated: null,
    }))
    const far = [{ tS: 99, stroke: 1, transition: 'make' as const, pressurePa: 900 }]
    const picture = drawTrace(frame, { points: points.slice(0, 2), trips: far, limitsPa: [900] }, size)
    expect(picture).toEqual(Array.from({ length: 8 }, () => ' '.repeat(40)))
    expect(drawTrace(frame, { ...nothing, points }, size)).toHaveLength(8)
  })

  test('a picture of no size has no rows', () => {
    expect(drawTrace(frame, nothing, { columns: 0, rows: 5 })).toEqual([])
    expect(drawTrace(frame, nothing, { columns: 5, rows: -1 })).toEqual([])
  })
})

describe('drawTrack', () => {
  test('shows when the switch was actuated, and nothing where that is unknown', () => {
    const points: TracePoint[] = [...hill.slice(0, 36), { tS: 36, pressurePa: 0, actuated: null }]
    expect(drawTrack(frame, points, 40)).toBe(`${'▁'.repeat(10)}${'█'.repeat(20)}${'▁'.repeat(7)}   `)
  })
})

describe('traceFrame', () => {
  test('without points spans half a minute from zero', () => {
    expect(traceFrame([], [])).toEqual({ startS: 0, endS: 30, lowPa: 0, highPa: 1 })
  })

  const between = (fromS: number, toS: number) =>
    [fromS, toS].map((tS): TracePoint => ({ tS, pressurePa: 40, actuated: null }))

  test('holds every point and every pressure to be kept, with a little air', () => {
    const held = traceFrame(
      [
        { tS: 5, pressurePa: -10, actuated: null },
        { tS: 90, pressurePa: 40, actuated: null },
      ],
      [60],
    )
    expect(held).toMatchObject({ startS: 0, endS: 120 })
    expect(held.lowPa).toBeLessThan(-9)
    expect(held.highPa).toBeGreaterThan(60)
    expect(traceRow(held, 60, 10)).toBe(0)
    expect(traceRow(held, -10, 10)).toBe(9)
    expect(traceRow(held, 1000, 10)).toBeNull()
  })

  test('noise about zero does not move the scale', () => {
    const noisy = (pressurePa: number) => traceFrame([{ tS: 1, pressurePa, actuated: null }], [60])
    expect(noisy(-0.2)).toEqual(noisy(0.2))
  })

  test('moves on by whole dots, never past a point of its two minutes', () => {
    const frames = Array.from({ length: 50 }, (_, i) => traceFrame(between(181 + i / 10, 300.5 + i / 10), [60], 61))
    const starts = new Set(frames.map((f) => f.startS))
    // Five seconds in dots of two seconds each.
    expect(starts.size).toBeLessThanOrEqual(4)
    for (const [i, { startS, endS }] of frames.entries()) {
      expect(endS - startS).toBe(120)
      expect(endS).toBeGreaterThanOrEqual(300.5 + i / 10)
      expect(endS).toBeLessThan(302.5 + i / 10 + 1e-9)
    }
  })
})
