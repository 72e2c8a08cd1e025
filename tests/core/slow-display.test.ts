// Displays too slow for their kicks to date a trip, over whole simulated tests: what vents leave open of them is paid for.
import { expect, test } from 'vitest'
import { goodBench } from '../../src/simulation/good-bench.ts'
import type { Scenario } from '../../src/simulation/scenario.ts'
import { airOf, gaugeOf, planOf, switchOf, withSecond } from '../../src/simulation/vary.ts'
import { runVirtually } from '../../src/simulation/virtual-run.ts'
import { resultFrom } from '../harness/fold-events.ts'
import { type ForeignBench, makeForeignRecording, quietBench } from '../harness/foreign-recording.ts'

const first = goodBench().rig.manometer!
/** A fine manometer, one pace, a kick that fades as the air takes the temperature of its wall. */
const fine = planOf(
  airOf(
    gaugeOf(
      {
        ...goodBench(),
        rig: {
          ...goodBench().rig,
          manometer: {
            ...first,
            accuracy: { ...first.accuracy!, ofFullScale: 0.0005 },
            digit: { value: 0.0001, unit: 'inH2O' },
          },
        },
      },
      { digit: 0.0001, noisePa: 0.03, gainError: 0 },
    ),
    { wallS: 1 },
  ),
  { briskStrokes: 0, unevenness: 0.03 },
)
// 0.28 inH2O is 69.7 Pa.
const high = switchOf(fine, { makePa: 70.4, breakPa: 56 })
const damped = (bench: Scenario) => gaugeOf(bench, { dampingS: 2 })
const tooHigh: [string, Scenario][] = [
  ['damped with 2 s', damped(high)],
  ['damped with 2 s, the second at the switch right', damped(withSecond(high))],
  ['that averages over 2 s', gaugeOf(high, { boxcarS: 2 })],
]

test.each(tooHigh)(
  'A part that makes above its limit behind a display %s is no part that passes, whichever way it errs.',
  (_, bench) => {
    for (const seed of [1, 2, 3]) {
      const { verdict, make } = resultFrom(runVirtually(bench, seed).events)
      expect(verdict).not.toBe('pass')
      if (make.valuePa !== null) expect(make.valuePa + make.UPa! + make.allowHighPa!).toBeGreaterThan(70)
    }
  },
)

test('A display that may be later than any that is reckoned with is told, with what to do.', () => {
  const result = resultFrom(runVirtually(damped(fine), 1).events)
  const told = result.findings.find(({ code }) => code === 'slow-display')!
  expect(told.effect).toBe('undecided')
  expect(told.evidence['lateS']).toBeGreaterThan(1.8)
  expect(told.text).toContain('Set its damping or averaging lower')
  expect(resultFrom(runVirtually(fine, 1).events).findings).toEqual([])
})

/** A display at the tee that makes what it shows of each reading itself, ten times a second; the kick fades, no stroke is brisk. */
const foreignBehind = (shownOf: (teePa: number, shownPa: number) => number, bench: Partial<ForeignBench> = {}) => {
  let shownPa = 0
  return makeForeignRecording({
    ...quietBench,
    makePa: 70.4,
    scatterPa: 0.12,
    kickPa: 1.5,
    kickFades: { tauS: 1.5, stays: 0.6 },
    holdS: 11,
    ratePaPerS: (stroke) => 1.2 + 0.04 * (stroke % 3),
    peakPa: 80,
    digitPa: 0.02,
    line: (pressurePa) => {
      shownPa = shownOf(Math.abs(pressurePa), shownPa)
      return `${(-shownPa / 249.08891).toFixed(4)} inH2O\r\n`
    },
    rig: { manometer: { digit: { value: 0.0001, unit: 'inH2O' }, accuracy: fineAccuracy } },
    ...bench,
  })
}
const fineAccuracy = {
  ofReading: 0.002,
  ofFullScale: 0.0004,
  fullScale: { value: 2, unit: 'inH2O' },
  distribution: 'normal',
}
/** One step of a tenth of a second of a display of the first order. */
const towards = (teePa: number, shownPa: number, tauS: number) => teePa + (shownPa - teePa) * Math.exp(-0.1 / tauS)
const cutOff: [string, (teePa: number, shownPa: number) => number][] = [
  ['2 Pa', (tee, shown) => (tee < 2 ? 0 : towards(tee, shown, 2))],
  ['10 Pa', (tee, shown) => (tee < 10 ? 0 : towards(tee, shown, 2))],
]

test.each(cutOff)(
  'A damping of 2 s that shows 0 below %s passes no part above its limit and is told.',
  (_, shownOf) => {
    for (const seed of [1, 2, 3]) {
      const result = resultFrom(foreignBehind(shownOf, { seed }).events)
      expect(result.verdict).not.toBe('pass')
      expect(result.findings.map(({ code }) => code)).toContain('slow-display')
    }
  },
)

const quickDown: [string, (teePa: number, shownPa: number) => number][] = [
  ['2 s up and 0.1 s down', (tee, shown) => towards(tee, shown, tee > shown ? 2 : 0.1)],
  ['2 s that clears where it is 4 Pa behind', (tee, shown) => (shown - tee > 4 ? tee : towards(tee, shown, 2))],
]

test.each(quickDown)(
  'A damping of %s on the fall is paid for on the make, and passes no part above its limit.',
  (_, shownOf) => {
    for (const seed of [1, 2, 3]) {
      const { verdict, make } = resultFrom(foreignBehind(shownOf, { seed }).events)
      expect(verdict).not.toBe('pass')
      expect(make.valuePa! + make.UPa! + make.allowHighPa!).toBeGreaterThan(70)
    }
  },
)

test('Without that damping, or with one of 0.3 s, nothing is told of the display and little is paid for it.', () => {
  for (const tauS of [0.01, 0.3]) {
    const shownOf = (tee: number, shown: number) => towards(tee, shown, tauS)
    const result = resultFrom(foreignBehind(shownOf, { makePa: 62 }).events)
    expect(result.findings.map(({ code }) => code)).not.toContain('slow-display')
    expect(result.make.allowHighPa).toBeLessThan(0.3)
  }
})

test('A display that is quick only down is paid for on the make, and one that is as late as 1.2 s is not told.', () => {
  const shownOf = (tee: number, shown: number) => towards(tee, shown, tee > shown ? 0.9 : 0.1)
  const { make, findings } = resultFrom(foreignBehind(shownOf, { makePa: 62 }).events)
  expect(make.allowHighPa).toBeGreaterThan(0.6)
  expect(make.valuePa! + make.UPa! + make.allowHighPa!).toBeGreaterThan(62)
  expect(findings.map(({ code }) => code)).not.toContain('slow-display')
})
