import { describe, expect, test } from 'vitest'
import { found, judged, restarted, session } from './sessions.ts'

const onlyMake = { limits: { make: { low: 0.22, high: 0.28, unit: 'inH2O' } } }

describe('breaks-low', () => {
  test('fails where the break lies below its limit', () => {
    const result = judged(session({ breakPa: 33 }))
    // Let down slowly, it stays made below its limit for longer than the lags allow: told beside it.
    expect(result.findings.map((f) => [f.code, f.effect])).toEqual([
      ['breaks-low', 'fail'],
      ['stayed-made', 'fail'],
    ])
    expect(result.limits.find((l) => l.name === 'break')?.outcome).toBe('fail')
    expect(result.verdict).toBe('fail')
  })
  test('fails where the differential is more than 0.6 of the make, whatever limits the part has', () => {
    expect(found(session({ breakPa: 22, part: onlyMake }))).toEqual([['breaks-low', 'fail']])
    expect(found(session({ breakPa: 28, part: onlyMake }))).toEqual([])
  })
  test('is no back door around the guard: inside it the limit stays undecided and nothing is found', () => {
    const limits = {
      make: { low: 0.22, high: 0.28, unit: 'inH2O' },
      break: { low: 0.15, high: null, unit: 'inH2O' },
    }
    const result = judged(session({ breakPa: 37.2, part: { limits } }))
    expect(result.findings).toEqual([])
    expect(result.limits.find((l) => l.name === 'break')?.outcome).toBe('undecided')
    expect(result.verdict).toBe('undecided')
  })
})

describe('off-rating', () => {
  test.each([
    [74, 60],
    [50, 40],
  ])('fails a part that trips steadily at the wrong point (%i Pa)', (makePa, breakPa) => {
    const result = judged(session({ makePa, breakPa }))
    expect(result.findings.map((f) => [f.code, f.effect])).toEqual([['off-rating', 'fail']])
    expect(result.verdict).toBe('fail')
  })
  test('is not said inside the guard', () => {
    const result = judged(session({ makePa: 70.3, breakPa: 56, scatterPa: 0.2 }))
    expect(result.findings).toEqual([])
    expect(result.verdict).toBe('undecided')
  })
  test('is judged on the transition that is rated', () => {
    const part = {
      rated: { value: 0.25, unit: 'inH2O', on: 'break' },
      limits: { break: { low: 0.22, high: 0.28, unit: 'inH2O' } },
    }
    expect(found(session({ makePa: 76, breakPa: 62, peakPa: 95, part }))).toEqual([])
    expect(found(session({ makePa: 62, breakPa: 47, part }))).toEqual([
      ['stayed-made', 'fail'],
      ['breaks-low', 'fail'],
      ['off-rating', 'fail'],
    ])
  })
})

describe('spread', () => {
  const swinging = (pa: number) => session({ scatterPa: 0.1, shiftPa: (stroke) => (stroke % 2 === 0 ? pa : -pa) })
  // s is about 1.1 × the swing; T/4 = 1.868 Pa; χ²(0.975, 4) = 11.143 in any table: s·√(4/11.143) reaches T/4 at 3.12 Pa.
  test('fails where the least that the scatter may be is more than a quarter of the tolerance', () => {
    const recording = swinging(3.2)
    expect(found(recording)).toEqual([['spread', 'fail']])
    expect(judged(recording).verdict).toBe('fail')
    const { sPa, leastPa } = judged(recording).findings[0]!.evidence as { sPa: number; leastPa: number }
    expect(leastPa / sPa).toBeCloseTo(Math.sqrt(4 / 11.143), 4)
  })
  test('is undecided where five cycles may scatter as much by chance', () => {
    const recording = swinging(2.6)
    expect(found(recording)).toEqual([['spread', 'undecided']])
    expect(judged(recording).verdict).toBe('undecided')
  })
  test('takes the scatter about the mean, so that a trend is no way around it', () => {
    // 1.3 Pa a stroke over five cycles: s is 1.3 × √2.5 = 2.06 Pa about the mean, and nothing about the trend.
    const drifting = session({ scatterPa: 0.05, makePa: 66, breakPa: 51, shiftPa: (stroke) => -1.3 * stroke })
    expect(found(drifting)).toContainEqual(['spread', 'undecided'])
  })
  test('is not said of half of that', () => expect(found(swinging(1.2))).toEqual([]))
})

describe('weakening', () => {
  const falling = (paPerStroke: number, cycles = 8) =>
    session({ cycles, makePa: 64, scatterPa: 0.1, shiftPa: (stroke) => paPerStroke * stroke })
  test('is undecided where the trip point moves by more than a quarter of the tolerance over the cycles', () => {
    const recording = falling(-0.5)
    expect(found(recording)).toEqual([['weakening', 'undecided']])
    expect(judged(recording).verdict).toBe('undecided')
    expect(found(falling(0.5))).toEqual([['weakening', 'undecided']])
  })
  test('is seen in the break where the make does not show it', () => {
    const recording = session({ cycles: 8, scatterPa: 0.1, breakShiftPa: (stroke) => -0.5 * stroke })
    expect(found(recording)).toContainEqual(['weakening', 'undecided'])
    expect(judged(recording).findings[0]!.text).toMatch(/^The break moves/)
  })
  test('is not said of a smaller drift, of fewer than six cycles, or of scatter', () => {
    expect(found(falling(-0.12))).toEqual([])
    expect(found(falling(-0.5, 5)).map(([code]) => code)).not.toContain('weakening')
    expect(found(session({ cycles: 8, scatterPa: 0.6 })).map(([code]) => code)).not.toContain('weakening')
  })
})

describe('sticky-first-stroke', () => {
  const first = (pa: number) => session({ shiftPa: (stroke) => (stroke === 0 ? pa : 0) })
  test('is undecided where the first make stands higher, still inside the limits', () => {
    const result = judged(first(5))
    expect(result.findings.map((f) => [f.code, f.effect])).toEqual([
      ['sticky-first-stroke', 'undecided'],
      ['sticky-first-break', 'undecided'],
    ])
    expect(result.verdict).toBe('undecided')
  })
  test('fails where it stands outside them, together with the limit of the first stroke', () => {
    const result = judged(first(12))
    expect(result.findings.map((f) => [f.code, f.effect])).toEqual([
      ['sticky-first-stroke', 'fail'],
      ['sticky-first-break', 'undecided'],
    ])
    expect(result.limits.find((l) => l.name === 'first-make')?.outcome).toBe('fail')
    expect(result.verdict).toBe('fail')
  })
  test('is not said of less than 3 % of the rated point, nor of a first make that stands lower', () => {
    expect(found(first(1))).toEqual([])
    expect(found(first(-4))).toEqual([['sticky-first-break', 'undecided']])
  })
  test('is not said where the later makes scatter as much', () => {
    const wild = [6, -2.5, 2.5, -2.5, 2.5, -2.5]
    const codes = found(session({ shiftPa: (stroke) => wild[stroke]! })).map(([code]) => code)
    expect(codes).not.toContain('sticky-first-stroke')
  })
  test('says where the rest before it was not stated', () => {
    const stated = judged(first(5)).findings[0]!.text
    const unknown = judged(restarted(first(5), { conditions: null })).findings[0]!.text
    expect(stated).not.toMatch(/not stated/)
    expect(unknown).toMatch(/How long it rested was not stated/)
  })
})
