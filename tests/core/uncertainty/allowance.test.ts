import { describe, expect, test } from 'vitest'
import { allowancesOf, leakShareOf } from '../../../src/core/uncertainty/allowance.ts'

const hose = {
  make: { shown: null, late: { lagS: 2, pa: 2.4 }, early: { lagS: 0.5, pa: 0.6 } },
  break: { shown: null, late: { lagS: 1, pa: 1 }, early: { lagS: 0.25, pa: 0.25 } },
}
const seen = {
  hose,
  lossPaPerS: null,
  makePa: 60,
  breakPa: 45,
  kickPa: null,
}
const stated = (of: ReturnType<typeof allowancesOf>) => {
  const side = (valuePa: number, { lowPa, highPa }: { lowPa: number; highPa: number }) => ({
    valuePa,
    allowLowPa: lowPa,
    allowHighPa: highPa,
  })
  return { make: side(60, of.make), break: side(45, of.break), differential: side(15, of.differential) }
}

describe('allowancesOf', () => {
  test('a late hose lets the make be lower, the break higher, the differential lower by both', () => {
    const { make, break: back, differential } = allowancesOf({ ...seen, lossPaPerS: 0 })
    expect([make.lowPa, make.highPa]).toEqual([2.4, 0.6])
    expect([back.lowPa, back.highPa]).toEqual([0.25, 1])
    expect([differential.lowPa, differential.highPa]).toEqual([3.4, 0.85])
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

test('the leak is told apart again from what a result states', () => {
  const held = stated(allowancesOf({ ...seen, lossPaPerS: 0.05, kickPa: 3 }))
  expect(leakShareOf('make', held)).toBeCloseTo(0.56, 9)
  const open = stated(allowancesOf(seen))
  expect(leakShareOf('make', open)).toBeCloseTo(6, 9)
  expect(leakShareOf('break', open)).toBeCloseTo(4.5, 9)
  expect(
    leakShareOf('make', { ...open, differential: { valuePa: null, allowLowPa: null, allowHighPa: null } }),
  ).toBeNull()
})
