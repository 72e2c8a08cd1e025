// What the rests between the strokes say of the zero: a drift is corrected, a jump voids the strokes about it.
import { describe, expect, test } from 'vitest'
import { analyse } from '../../src/core/analyse.ts'
import { judge } from '../../src/core/judge.ts'
import { foldEvents, sealRun } from '../harness/fold-events.ts'
import { makeForeignRecording, quietBench } from '../harness/foreign-recording.ts'

const bench = {
  ...quietBench,
  cycles: 6,
  ratePaPerS: (stroke: number) => [1.2, 1.2, 3][stroke % 3]!,
  restsS: { before: 13, between: 10, after: 14 },
}
const { strokes, makePa, breakPa } = makeForeignRecording(bench)

function shown(offsetPa: (tS: number) => number) {
  const run = sealRun(foldEvents(makeForeignRecording({ ...bench, offsetPa }).events))
  const analysis = analyse(run, run.setup!)
  const result = judge(analysis)
  const zero = result.budget.find((l) => l.quantity === 'make' && l.component === 'zero')!
  return {
    analysis,
    result,
    zero,
    whys: result.cycles.map((c) => c.why),
    codes: result.findings.map((f) => [f.code, f.effect]),
  }
}

/** Middle of the rest before a stroke (0 = the first). */
const restBefore = (stroke: number) => strokes[stroke]!.startS - 5

const counted = ['first-stroke', null, null, null, null, null, null]

describe('The zero', () => {
  test('stays a straight line where the rests between lie on it, and they bound its uncertainty', () => {
    for (const drift of [0, 0.002]) {
      const { analysis, zero, whys, codes } = shown((tS) => drift * tS)
      expect(analysis.zero.vents!.knots).toBeNull()
      expect([whys, codes.filter(([, effect]) => effect !== 'note')]).toEqual([counted, []])
      expect(zero.uPa).toBeGreaterThanOrEqual(analysis.zero.vents!.scatterPa)
      expect(analysis.zero.vents!.scatterPa).toBeGreaterThan(0)
    }
  })

  test('follows the drift of a manometer that warms up, from rest to rest', () => {
    const { analysis, result, whys, codes } = shown((tS) => 3 * (1 - Math.exp(-tS / 150)))
    expect(analysis.zero.vents!.knots!.length).toBeGreaterThan(5)
    // No stroke is lost by it, and more than U in all is told as before.
    expect([whys, codes]).toEqual([counted, [['zero-moved', 'void']]])
    expect(Math.abs(result.make.valuePa! - makePa)).toBeLessThan(0.3)
    expect(Math.abs(result.break.valuePa! - breakPa)).toBeLessThan(0.3)
  })

  test('that moved and came back voids the strokes on either side of that rest', () => {
    const { result, whys, codes } = shown((tS) => (Math.abs(tS - restBefore(3)) < 15 ? 3 : 0))
    expect(whys).toEqual(['first-stroke', null, 'gap', 'gap', null, null, null])
    expect(codes).toEqual([['zero-moved', 'note']])
    expect(result.findings[0]!.text).toContain('stroke 3, 4 does not count')
    expect(result.verdict).toBe('undecided')
  })

  test('that an instrument sets again in a stroke voids that stroke alone', () => {
    const { result, whys, codes } = shown((tS) => (tS > strokes[3]!.makeS ? 1 : 0))
    expect(whys).toEqual(['first-stroke', null, null, 'gap', null, null, null])
    expect(codes.map(([code]) => code)).toContain('zero-moved')
    expect(Math.abs(result.make.valuePa! - makePa)).toBeLessThan(0.3)
  })

  test('that moved by less than a digit and the noise voids nothing', () => {
    const { whys, codes } = shown((tS) => (Math.abs(tS - restBefore(3)) < 15 ? 0.2 : 0))
    expect([whys, codes]).toEqual([counted, []])
  })

  test('is not taken from a vent that still falls', () => {
    // What a slow needle leaves: an offset in each rest that fades with 8 s.
    const slow = (tS: number) => {
      const before = strokes.findLast((s) => s.endS <= tS)
      return before && tS - before.endS < 9.9 && before !== strokes.at(-1) ? 6 * Math.exp((before.endS - tS) / 8) : 0
    }
    const { analysis, codes } = shown(slow)
    expect(analysis.zero.vents).toMatchObject({ knots: null, jumps: [] })
    expect(codes).toEqual([])
  })
})
