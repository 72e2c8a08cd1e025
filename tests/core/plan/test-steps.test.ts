// The table of the steps of a test: its order, how many strokes it asks for, and what it says of each step.
import { expect, test } from 'vitest'
import {
  plannedStrokes,
  planWithStrokes,
  stepNames,
  testSteps,
  usualPlan,
} from '../../../src/core/plan/test-steps.table.ts'

test('the hold comes before the cycles, the faster strokes after them, and both can be left out only at a cost that is said', () => {
  const place = (name: (typeof stepNames)[number]) => stepNames.indexOf(name)
  expect(place('precondition')).toBeLessThan(place('hold'))
  expect(place('hold')).toBeLessThan(place('cycles'))
  expect(place('cycles')).toBeLessThan(place('fast-cycles'))
  for (const name of ['hold', 'fast-cycles'] as const)
    expect(testSteps[place(name)]!.without).toMatch(/near a limit the test stays undecided\.$/)
})

test('every stroke of a plan is counted once: first stroke, preconditioning with its hold, cycles, faster ones', () => {
  expect(plannedStrokes(usualPlan)).toBe(1 + 3 + 5 + 2)
  expect(plannedStrokes(usualPlan, true)).toBe(5 + 2)
  expect(plannedStrokes({ preconditioning: 1, cycles: 6 })).toBe(1 + 1 + 6 + 2)
  // Without preconditioning the stroke that is held is one of the cycles.
  expect(plannedStrokes({ preconditioning: 0, cycles: 6 })).toBe(1 + 6 + 2)
})

test('a plan of so many strokes in all has so many, and never too few cycles', () => {
  for (const strokes of [11, 30, 60])
    for (const preconditioning of [0, 1, 3])
      expect(plannedStrokes(planWithStrokes(strokes, preconditioning))).toBe(strokes)
  expect(planWithStrokes(4, 3).cycles).toBe(5)
})
