// A hand that opens the vent at the peak: where in that fall the switch let go is not known.
import { describe, expect, test } from 'vitest'
import { findScenario } from '../../src/simulation/find-scenario.ts'
import { truthOf } from '../../src/simulation/scenario.ts'
import { resultOfRun, runOf } from '../bench/measure-part.ts'

const good = findScenario('good', 1)
const stroke = 5

describe.each([1, 2, 3, 4])('A counted stroke vented from its peak (seed %i)', (seed) => {
  const vented = { ...good, plan: { ...good.plan, ventsFromPeak: [stroke] } }
  const { cycles, verdict, make, break: back } = resultOfRun(runOf(vented, seed))

  test('is void as too fast, and moves no value by what nobody saw', () => {
    expect(cycles.filter(({ why }) => why === 'too-fast').map((cycle) => cycle.stroke)).toEqual([stroke])
    const { makePa, breakPa } = truthOf(vented)
    expect(Math.abs(make.valuePa! - makePa!)).toBeLessThan(2 * make.UPa!)
    expect(Math.abs(back.valuePa! - breakPa!)).toBeLessThan(2 * back.UPa!)
    expect(verdict).toBe('pass')
  })
})
