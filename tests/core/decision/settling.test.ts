// What would settle an undecided quantity, held against the decision itself: at so many cycles, and not at one less.
import { expect, test } from 'vitest'
import { outcome } from '../../../src/core/decision/acceptance.ts'
import { cyclesToSettle, type Settling, settlingsOf } from '../../../src/core/decision/settling.ts'
import type { BudgetLine, Result } from '../../../src/core/model/result.ts'
import { studentQuantile } from '../../../src/core/statistics/student.ts'
import { effectiveDof } from '../../../src/core/statistics/welch-satterthwaite.ts'
import { sampleRating } from '../../harness/sample-rating.ts'
import { sampleRig } from '../../harness/sample-rig.ts'
import { sampleResult } from '../../terminal/sample-lives.ts'

type Shares = { gauge: number; scatter: number; lag: number }

const line = (component: string, uPa: number, dof: number | null = null): BudgetLine => ({
  quantity: 'make',
  component,
  value: uPa,
  unit: 'Pa',
  distribution: 'normal',
  divisor: 1,
  sensitivity: 1,
  uPa,
  dof,
})
const linesOf = ({ gauge, scatter, lag }: Shares, n: number) => [
  line('gauge', gauge),
  line('scatter', scatter / Math.sqrt(n), n - 1),
  line('lag', lag),
]
const UOf = (lines: readonly BudgetLine[]) => {
  const dof = effectiveDof(lines.map(({ uPa, dof }) => ({ u: uPa, dof }))) ?? Number.POSITIVE_INFINITY
  return studentQuantile(0.975, dof) * Math.hypot(...lines.map((l) => l.uPa))
}
const n = 6
const lowPa = 55
const decided = (valuePa: number, lines: readonly BudgetLine[]) => outcome(valuePa, UOf(lines), lowPa, null, 1, 1)

/** What settles a make of `valuePa` above the low limit of 55 Pa. */
function settle(valuePa: number, shares: Shares): Settling[] {
  const budget = linesOf(shares, n)
  const limits: Result['limits'] = [
    { name: 'make', lowPa, highPa: null, outcome: decided(valuePa, budget), conformance: null },
  ]
  const base = sampleResult(n + 3)
  return settlingsOf(
    { ...base, make: { ...base.make, valuePa, n, allowLowPa: 0, allowHighPa: 0 }, limits, budget },
    sampleRating,
    sampleRig,
  )
}

test('as many cycles as the decision itself asks for, and not one less', () => {
  const shares = { gauge: 0.2, scatter: 1, lag: 0.05 }
  for (const above of [0.62, 0.75, 0.9, 1.05]) {
    const [settling] = settle(lowPa + above, shares)
    const cycles = settling!.cycles!
    expect(cycles).toBeGreaterThan(n)
    expect(decided(lowPa + above, linesOf(shares, cycles))).toBe('pass')
    expect(decided(lowPa + above, linesOf(shares, cycles - 1))).toBe('undecided')
  }
})

test('a manometer, where the scatter is not what holds it up: with it the value passes, with one half a tenth worse not', () => {
  const shares = { gauge: 1, scatter: 0.1, lag: 0.05 }
  const [settling] = settle(lowPa + 1, shares)
  expect(settling).toMatchObject({ quantity: 'make', cycles: null, largest: 'gauge' })
  const withHalf = (halfPa: number) => decided(lowPa + 1, linesOf({ ...shares, gauge: halfPa / Math.sqrt(3) }, n))
  expect(withHalf(settling!.accuracyPa!)).toBe('pass')
  expect(withHalf(1.05 * settling!.accuracyPa!)).toBe('undecided')
})

test('neither, where something else holds it up, and that is named', () => {
  expect(settle(lowPa + 0.5, { gauge: 0.2, scatter: 0.05, lag: 1 })).toEqual([
    { quantity: 'make', cycles: null, accuracyPa: null, largest: 'lag' },
  ])
})

test('nothing is to be settled where all is decided', () => {
  expect(settle(lowPa + 9, { gauge: 0.2, scatter: 0.1, lag: 0.05 })).toEqual([])
})

test('of several quantities the slowest counts, and one that cycles cannot settle makes it hopeless', () => {
  const of = (cycles: number | null): Settling => ({ quantity: 'make', cycles, accuracyPa: null, largest: 'lag' })
  expect(cyclesToSettle([])).toBe(0)
  expect(cyclesToSettle([of(7), of(11), of(8)])).toBe(11)
  expect(cyclesToSettle([of(7), of(null), of(8)])).toBe(null)
})
