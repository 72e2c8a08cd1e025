// Displays too slow for their kicks to date a trip, over whole simulated tests: what vents leave open of them is paid for.
import { expect, test } from 'vitest'
import { goodBench } from '../../src/simulation/good-bench.ts'
import type { Scenario } from '../../src/simulation/scenario.ts'
import { airOf, gaugeOf, planOf, switchOf, withSecond } from '../../src/simulation/vary.ts'
import { runVirtually } from '../../src/simulation/virtual-run.ts'
import { resultFrom } from '../harness/fold-events.ts'

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
