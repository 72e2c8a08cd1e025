import { describe, expect, test } from 'vitest'
import { allowancesOf } from '../../../src/core/uncertainty/allowance.ts'

const hose = {
  make: { shown: null, late: { lagS: 2, pa: 2.4 }, early: { lagS: 0.5, pa: 0.6 } },
  break: { shown: null, late: { lagS: 1, pa: 1 }, early: { lagS: 0.25, pa: 0.25 } },
  both: { latePa: 2.6, earlyPa: 0.65 },
}
const seen = {
  hose,
  lossPaPerS: null,
  makePa: 60,
  breakPa: 45,
  kickPa: null,
}
describe('allowancesOf', () => {
  test('a late hose lets the make be lower, the break higher, the differential lower by what both leave open together', () => {
    const { make, break: back, differential } = allowancesOf({ ...seen, lossPaPerS: 0 })
    expect([make.lowPa, make.highPa]).toEqual([2.4, 0.6])
    expect([back.lowPa, back.highPa]).toEqual([0.25, 1])
    expect([differential.lowPa, differential.highPa]).toEqual([2.6, 0.65])
  })

  test('a leak that nothing bounds lowers make and break by a tenth where that is more than the hose, and not the differential', () => {
    const open = allowancesOf(seen)
    expect([open.make.lowPa, open.break.lowPa]).toEqual([6, 4.5])
    expect(open.differential).toEqual(allowancesOf({ ...seen, lossPaPerS: 0 }).differential)
  })

  test('one that a rest bounds is paid through the hose, beside its lag as squares', () => {
    // 0.05 Pa/s × 2 s × 1.4 × (15/3 − 1).
    const { make } = allowancesOf({ ...seen, lossPaPerS: 0.05, kickPa: 3 })
    expect(make.leakPa).toBeCloseTo(0.56, 12)
    expect(make.lowPa).toBeCloseTo(Math.hypot(2.4, 0.56), 12)
  })
})
