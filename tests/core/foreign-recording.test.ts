import { describe, expect, test } from 'vitest'
import { resultFrom } from '../harness/fold-events.ts'
import { type ForeignBench, makeForeignRecording, quietBench } from '../harness/foreign-recording.ts'

const inH2OPa = 9.80665 * 25.4

/** The bar of a quiet bench: make and break to half a pascal against the mean of the trips that count. */
const barPa = 0.5

function measure(change: Partial<ForeignBench>) {
  const recording = makeForeignRecording({ ...quietBench, ...change })
  const result = resultFrom(recording.events)
  return {
    result,
    makeError: (result.make.valuePa ?? Number.NaN) - recording.makePa,
    breakError: (result.break.valuePa ?? Number.NaN) - recording.breakPa,
  }
}

function expectGood({ result, makeError, breakError }: ReturnType<typeof measure>) {
  expect(result.findings).toEqual([])
  expect(result.verdict).toBe('pass')
  expect(Math.abs(makeError)).toBeLessThanOrEqual(barPa)
  expect(Math.abs(breakError)).toBeLessThanOrEqual(barPa)
}

const alternately = (rates: readonly number[]) => (stroke: number) => rates[stroke % rates.length]!

const paces: [string, number[]][] = [
  ['0.5 Pa/s and 1.25', [0.5, 0.5, 1.25]],
  ['1 Pa/s and 2.5', [1, 1, 2.5]],
  ['2 Pa/s and 5', [2, 2, 5]],
  ['3 Pa/s and 1.2', [3, 3, 1.2]],
  ['0.5, 1, 2 and 3 Pa/s in turn', [0.5, 1, 2, 3]],
]

// Deliberate errors that these catch: a first stroke that counts (the mean moves, n is 7), and a ramp drawn through the
// kick, which lowers each make by a part of it and leaves the scatter of the parts.
describe.each(paces)('A quiet bench whose lag nobody told, at %s', (_, rates) => {
  test.each([
    [0.001, 1],
    [0.0001, 2],
  ])('is right to half a pascal, passes, and nothing is found (digit %f inH2O, seed %i)', (digitInH2O, seed) => {
    const made = measure({ ratePaPerS: alternately(rates), digitPa: digitInH2O * inH2OPa, seed })
    expectGood(made)
    expect(made.result.lag.source).toBe('estimated')
    expect(made.result.make.n).toBe(6)
  })
})

describe('True delays are found and taken off:', () => {
  const lag = (d: Partial<ForeignBench>) => (d.contactDelayS ?? 0) - (d.pressureDelayS ?? 0) - (d.dampingS ?? 0)
  // Deliberate error that this catches: the lag taken off with the wrong sign (0.4 s × 3 Pa/s, twice).
  test.each<[string, Partial<ForeignBench>]>([
    ['a contact path that is late', { contactDelayS: 0.4 }],
    ['a pressure path that is late', { pressureDelayS: 0.4 }],
    ['a damped manometer', { dampingS: 0.2 }],
    ['a damping between the steps of the grid', { dampingS: 0.035, digitPa: 0.0001 * inH2OPa }],
    ['all of them', { contactDelayS: 0.25, pressureDelayS: 0.05, dampingS: 0.3 }],
  ])('%s', (_, delays) => {
    for (const rates of [
      [3, 3, 1.2],
      [1, 2],
    ]) {
      const made = measure({ ...delays, ratePaPerS: alternately(rates), seed: 5 })
      expectGood(made)
      expect(Math.abs(made.result.lag.valueS - lag(delays))).toBeLessThan(0.1)
      expect(made.result.make.scatterPa).toBeLessThan(0.7)
    }
  })
})

describe('A bench without a kick', () => {
  const noKick = { kickPa: 0, scatterPa: 0.1 }
  test.each([1, 2])('finds its lag from rates that differ (seed %i)', (seed) => {
    for (const contactDelayS of [0, 0.3]) {
      const made = measure({ ...noKick, contactDelayS, ratePaPerS: alternately([0.5, 1, 2, 3]), seed })
      expectGood(made)
      expect(Math.abs(made.result.lag.valueS - contactDelayS)).toBeLessThan(4 * made.result.lag.uS)
    }
  })

  test('takes the lag that the rig records', () => {
    const lag = { valueS: 0.3, uS: 0.02, n: 14 }
    const made = measure({ ...noKick, contactDelayS: 0.3, ratePaPerS: alternately([1.5, 1.5, 3.75]), rig: { lag } })
    expectGood(made)
    expect(made.result.lag).toEqual({ valueS: 0.3, uS: 0.02, source: 'prior' })
  })

  test('at one pace and with nothing told says so, and its uncertainty holds the lag it cannot see', () => {
    const { result, makeError, breakError } = measure({ ...noKick, contactDelayS: 0.15, ratePaPerS: () => 3 })
    // ½(Tp + Tc), the median intervals of the two streams.
    expect(result.lag.source).toBe('none')
    expect(result.lag.valueS).toBe(0)
    expect(result.lag.uS).toBeCloseTo(0.15, 3)
    expect(Math.abs(makeError)).toBeLessThan(result.make.UPa!)
    expect(Math.abs(breakError)).toBeLessThan(result.break.UPa!)
    const lagShare = result.budget.find((line) => line.quantity === 'make' && line.component === 'lag')
    expect(lagShare?.uPa).toBeGreaterThanOrEqual(0.95 * 3 * 0.15)
  })

  test('holds the truth within 4 u however the trips scatter', () => {
    for (const seed of [1, 2, 3]) {
      const { result, makeError, breakError } = measure({ kickPa: 0, ratePaPerS: alternately([1, 3]), seed })
      expect(Math.abs(makeError)).toBeLessThan(4 * result.make.uPa!)
      expect(Math.abs(breakError)).toBeLessThan(4 * result.break.uPa!)
    }
  })
})

describe('The zero is subtracted:', () => {
  // Deliberate error that this catches: the zero forgotten.
  test('an offset of 2.5 Pa moves neither make nor break', () => {
    expectGood(measure({ offsetPa: () => 2.5 }))
  })
  test('one that drifts by half a pascal is corrected linearly', () => {
    const { result, makeError, breakError } = measure({ offsetPa: (tS) => -0.5 * (tS / 200) })
    expect(Math.abs(makeError)).toBeLessThan(0.2)
    expect(Math.abs(breakError)).toBeLessThan(0.2)
    expect(result.verdict).toBe('pass')
  })
})

// Deliberate error that this catches: the first stroke counted, or used to judge the mean.
test('The first stroke is apart: where it lies does not move make and break.', () => {
  const made = measure({ shiftPa: (stroke) => (stroke === 0 ? -5 : 0) })
  expect(Math.abs(made.makeError)).toBeLessThanOrEqual(barPa)
  expect(Math.abs(made.breakError)).toBeLessThanOrEqual(barPa)
  // Its break lies far below the later ones: that is told, and is no error of theirs.
  expect(made.result.findings.map((f) => f.code)).toEqual(['sticky-first-break'])
  expect(made.result.cycles[0]).toMatchObject({ stroke: 1, used: false, why: 'first-stroke' })
  expect(Math.abs(made.result.firstStroke.makePa! - 57)).toBeLessThan(1.5)
  expect(Math.abs(made.result.firstStroke.breakPa! - 42)).toBeLessThan(1.5)
})

// Deliberate error that this catches: the ramp drawn through the kick, which lowers each make by a part of it.
test('A kick of 6 Pa leaves make and break where they are.', () => {
  const made = measure({ kickPa: 6, ratePaPerS: alternately([1, 1, 2.5]) })
  expectGood(made)
  expect(Math.abs(made.makeError)).toBeLessThan(0.15)
  expect(Math.abs(made.breakError)).toBeLessThan(0.15)
})
