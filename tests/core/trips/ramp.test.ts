import { describe, expect, test } from 'vitest'
import {
  chooseRampModel,
  filterRamp,
  predictRamp,
  type RampModel,
  type RampSample,
  smoothRamp,
  weighStretch,
} from '../../../src/core/trips/ramp.ts'
import { createRandom } from '../../harness/foreign-recording.ts'

const noisePa = 0.1
const steady: RampModel = { noiseVar: noisePa ** 2, q: 0 }

function ramp(n: number, everyS: number, ratePaPerS: number, seed = 1): RampSample[] {
  const random = createRandom(seed)
  return Array.from({ length: n }, (_, i) => {
    const tS = i * everyS
    return { tS, pressurePa: 40 + ratePaPerS * tS + noisePa * random.normal(), extraVar: 0 }
  })
}

/**
 * Least squares of p0 + v·t with the filter's prior on v, N(0, 400 Pa²/s²): the normal equations of a straight line with
 * one row for the prior. With q = 0 the filter must end there, for it is the same sum taken one reading at a time.
 */
function straightLine(samples: readonly RampSample[], priorVar = 400) {
  const n = samples.length
  const meanT = samples.reduce((s, x) => s + x.tS, 0) / n
  const meanP = samples.reduce((s, x) => s + x.pressurePa, 0) / n
  const sxx = samples.reduce((s, x) => s + (x.tS - meanT) ** 2, 0)
  const sxy = samples.reduce((s, x) => s + (x.tS - meanT) * (x.pressurePa - meanP), 0)
  const v = sxy / (sxx + noisePa ** 2 / priorVar)
  const varV = 1 / (sxx / noisePa ** 2 + 1 / priorVar)
  return { at: (tS: number) => meanP + v * (tS - meanT), v, varV, varMean: noisePa ** 2 / n, meanT }
}

describe('The ramp filter with a perfectly steady hand is the straight line of least squares', () => {
  const samples = ramp(25, 0.1, 1.5)
  const line = straightLine(samples)
  const filtered = filterRamp(samples, steady)

  test('at its last reading, with its variances', () => {
    const end = filtered.states.at(-1)!
    const tS = samples.at(-1)!.tS
    expect(end.pPa).toBeCloseTo(line.at(tS), 9)
    expect(end.vPaPerS).toBeCloseTo(line.v, 9)
    expect(end.vv).toBeCloseTo(line.varV, 9)
    expect(end.pp).toBeCloseTo(line.varMean + (tS - line.meanT) ** 2 * line.varV, 9)
  })
  test('and smoothed at every reading', () => {
    for (const [i, state] of smoothRamp(samples, filtered).entries()) {
      expect(state.pPa).toBeCloseTo(line.at(samples[i]!.tS), 6)
      expect(state.vPaPerS).toBeCloseTo(line.v, 6)
    }
  })
  test('and predicted beyond them', () => {
    const beyond = predictRamp(filtered.states.at(-1)!, 2, steady)
    expect(beyond.pPa).toBeCloseTo(line.at(samples.at(-1)!.tS + 2), 8)
  })
  test('a reading with a great variance of its own counts for nothing', () => {
    const spoilt = samples.map((s, i) => (i === 20 ? { ...s, pressurePa: s.pressurePa + 3, extraVar: 1e9 } : s))
    const without = samples.filter((_, i) => i !== 20)
    const end = filterRamp(spoilt, steady).states.at(-1)!
    expect(end.pPa).toBeCloseTo(filterRamp(without, steady).states.at(-1)!.pPa, 5)
  })
})

// Integrated Wiener process over dt: variances q·dt³/3 and q·dt, covariance q·dt²/2.
test('An unsteady hand adds the variances of the integrated Wiener process.', () => {
  const known = { pPa: 10, vPaPerS: 2, pp: 0, pv: 0, vv: 0 }
  expect(predictRamp(known, 2, { noiseVar: 1, q: 0.3 })).toEqual({
    pPa: 14,
    vPaPerS: 2,
    pp: (0.3 * 8) / 3,
    pv: (0.3 * 4) / 2,
    vv: 0.6,
  })
})

test('A jump of the pace is followed within a few readings.', () => {
  const random = createRandom(3)
  const turnS = 4
  const all = Array.from({ length: 52 }, (_, i): RampSample => {
    const tS = i / 10
    const pressurePa = 40 + 6 * Math.min(tS, turnS) + Math.max(0, tS - turnS) + noisePa * random.normal()
    return { tS, pressurePa, extraVar: 0 }
  })
  const end = filterRamp(all, { noiseVar: noisePa ** 2, q: 0.003 }).states.at(-1)!
  expect(Math.abs(end.vPaPerS - 1)).toBeLessThan(0.4)
})

const modelOf = (stretches: readonly RampSample[][], noisePa: number) =>
  chooseRampModel(
    stretches.map((stretch) => weighStretch(stretch, noisePa)),
    noisePa,
  )

test('The model of a session: more wander for a trembling hand, more noise where the readings in motion are worse, never less.', () => {
  const even = [1, 2, 3].map((seed) => ramp(60, 0.1, 1, seed))
  const random = createRandom(7)
  const trembling = even.map((stretch) => {
    let [v, p] = [0, 0]
    return stretch.map((s) => {
      v += random.normal() * Math.sqrt(10 * 0.1)
      p += v * 0.1
      return { ...s, pressurePa: s.pressurePa + p }
    })
  })
  const [steadyModel, tremblingModel] = [modelOf(even, noisePa), modelOf(trembling, noisePa)]
  expect(steadyModel.q).toBeLessThanOrEqual(0.03)
  expect(tremblingModel.q).toBeGreaterThanOrEqual(3)
  expect(steadyModel.noiseVar).toBeCloseTo(noisePa ** 2, 12)
  const noisy = even.map((stretch) => stretch.map((s) => ({ ...s, pressurePa: s.pressurePa + 0.2 * random.normal() })))
  expect(modelOf(noisy, noisePa).noiseVar).toBeGreaterThan(3 * noisePa ** 2)
  expect(modelOf(even, 0.5).noiseVar).toBeGreaterThanOrEqual(0.25)
  expect(modelOf([], noisePa).noiseVar).toBeCloseTo(noisePa ** 2, 12)
})

test('No readings give no states.', () => {
  expect(filterRamp([], steady)).toEqual({ states: [], aheads: [], logLiks: [] })
})
