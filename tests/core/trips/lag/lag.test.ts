import { describe, expect, test } from 'vitest'
import { meterDelay } from '../../../../src/core/trips/lag/meter-delay.ts'
import { dampedResponse } from '../../../../src/core/trips/response.ts'
import type { TripInput } from '../../../../src/core/trips/trip-moment.ts'
import { resultFrom } from '../../../harness/fold-events.ts'
import { type ForeignBench, makeForeignRecording, quietBench, rewrite } from '../../../harness/foreign-recording.ts'

const turns = (stroke: number) => [1, 2, 3][stroke % 3]!
const measure = (change: Partial<ForeignBench>) => {
  const recording = makeForeignRecording({ ...quietBench, manometerS: 0.097, ratePaPerS: turns, ...change })
  return { result: resultFrom(recording.events), recording }
}
const noKick: Partial<ForeignBench> = { kickPa: 0, scatterPa: 0.1 }

describe('Where the lag comes from', () => {
  test('kicks and the rig together: by inverse variance, nearer to the surer one', () => {
    const alone = measure({ contactDelayS: 0.1 }).result.lag
    const rig = { lag: { valueS: 0.12, uS: 0.01, n: 20 } }
    const { lag, findings } = measure({ contactDelayS: 0.1, rig }).result
    expect(lag.source).toBe('estimated')
    expect(lag.uS).toBeLessThan(Math.min(alone.uS, 0.01) + 1e-3)
    expect(lag.valueS).toBeGreaterThan(Math.min(alone.valueS, 0.12))
    expect(lag.valueS).toBeLessThan(Math.max(alone.valueS, 0.12))
    expect(findings).toEqual([])
  })

  test('the rig alone where nothing in the session tells: prior with a record, declared without', () => {
    const told = (lag: object) => measure({ ...noKick, ratePaPerS: () => 1, rig: { lag } }).result.lag
    expect(told({ valueS: 0.02, uS: 0.02, n: 9 })).toEqual({ valueS: 0.02, uS: 0.02, source: 'prior' })
    expect(told({ valueS: 0.02, uS: 0.02 })).toEqual({ valueS: 0.02, uS: 0.02, source: 'declared' })
  })

  test('no knowledge at all is N(0, ½(Tp + Tc)) of the median intervals', () => {
    const { lag } = measure({ ...noKick, ratePaPerS: () => 1, manometerS: 0.2, meterS: 0.5 }).result
    expect(lag.source).toBe('none')
    expect(lag.valueS).toBe(0)
    expect(lag.uS).toBeCloseTo(0.35, 3)
  })

  // Deliberate error that this catches: the lag taken off with the wrong sign.
  test('is taken off with its sign: M(r) = M0 + rL and B(r) = B0 − rL', () => {
    for (const [delay, sign] of [
      [{ contactDelayS: 0.5 }, 1],
      [{ pressureDelayS: 0.5 }, -1],
    ] as const) {
      const rig = { lag: { valueS: 0.5 * sign, uS: 0.01, n: 9 } }
      const { result, recording } = measure({ ...noKick, ...delay, ratePaPerS: () => 2, rig })
      expect(Math.abs(result.make.valuePa! - recording.makePa)).toBeLessThan(0.2)
      expect(Math.abs(result.break.valuePa! - recording.breakPa)).toBeLessThan(0.2)
    }
  })

  test('a rig that the session contradicts by three standard uncertainties is left out, and that is said', () => {
    const { result, recording } = measure({ contactDelayS: 0.1, rig: { lag: { valueS: 0.6, uS: 0.02, n: 9 } } })
    expect(result.findings.map((f) => [f.code, f.effect])).toEqual([['lag-conflict', 'note']])
    expect(Math.abs(result.lag.valueS - 0.1)).toBeLessThan(0.06)
    expect(Math.abs(result.make.valuePa! - recording.makePa)).toBeLessThan(0.5)
    expect(result.verdict).toBe('pass')
    const near = measure({ contactDelayS: 0.1, rig: { lag: { valueS: 0.16, uS: 0.04, n: 9 } } }).result
    expect(near.findings).toEqual([])
  })
})

describe('The meter that hunts for its range', () => {
  /** Trips dated by a kick at 5 s in steps of 20 ms; closings are seen `closingS` after it, openings `openingS`. */
  const trips = (closingS: number, openingS: number, uS = 0.03): TripInput[] =>
    [true, false, true, false, true, false].map((closes, i) => {
      const cells = Array.from({ length: 100 }, (_, k) => {
        const tS = 4 + k * 0.02
        const state = { pPa: 60, vPaPerS: 1, pp: 0.01, pv: 0, vv: 0.01 }
        return { tS, widthS: 0.02, before: state, smooth: state, logLiks: [-0.5 * ((tS - 5) / uS) ** 2] }
      })
      const hiS = 5 + (closes ? closingS : openingS) + 0.1
      return {
        transition: closes ? 'make' : 'break',
        counted: i > 1,
        closes,
        loS: hiS - 0.2,
        hiS,
        surface: {
          cells,
          answers: [dampedResponse(0)],
          kick: { evidence: 20, fades: false, sizePa: 3, sizeVar: 0.01, mostPa: 25 },
        },
        kick: true,
        dated: true,
        contactBlind: false,
      } satisfies TripInput
    })

  test('is as late at closing as the two differ by', () => {
    const found = meterDelay(trips(0.95, 0.05))
    expect(found!.excessS).toBeCloseTo(0.9, 2)
    expect(found!.uS).toBeLessThan(0.1)
  })
  test('is none where both are alike, where openings are late, or where the excess is under 0.3 s', () => {
    expect(meterDelay(trips(0.9, 0.9))).toBeNull()
    expect(meterDelay(trips(0.05, 0.95))).toBeNull()
    expect(meterDelay(trips(0.3, 0.05))).toBeNull()
  })
  test('is not told from fewer than two kicks of each kind', () => {
    expect(meterDelay(trips(0.95, 0.05).slice(0, 3))).toBeNull()
    expect(meterDelay(trips(0.95, 0.05).map((t) => ({ ...t, kick: false })))).toBeNull()
  })

  test('in a session: closings seen 0.9 s late are found, dated by the kick, and the part is measured right', () => {
    const recording = makeForeignRecording({ ...quietBench, ratePaPerS: turns })
    const late = rewrite(recording, 'meter', (tS, text) =>
      recording.strokes.some((s) => tS >= s.makeS && tS < s.makeS + 0.9) ? '+9.9E+37\n' : text,
    )
    const result = resultFrom(late.events)
    expect(result.findings.map((f) => [f.code, f.effect])).toEqual([['meter-auto-range', 'note']])
    expect(result.verdict).toBe('pass')
    expect(Math.abs(result.make.valuePa! - recording.makePa)).toBeLessThan(0.5)
    expect(Math.abs(result.break.valuePa! - recording.breakPa)).toBeLessThan(0.5)
  })
})

describe('The hose', () => {
  test('delays the switch behind the kick clock: it is found from rates that differ and taken off', () => {
    const { result, recording } = measure({ hoseS: 1.5, ratePaPerS: (stroke) => [0.8, 2.4][stroke % 2]! })
    expect(Math.abs(result.lag.valueS - 1.5)).toBeLessThan(4 * result.lag.uS)
    // Taken off with the wrong sign it would leave 2 × 1.5 s × 1.6 Pa/s.
    expect(Math.abs(result.make.valuePa! - recording.makePa)).toBeLessThan(0.8)
    expect(Math.abs(result.break.valuePa! - recording.breakPa)).toBeLessThan(0.8)
  })
})
