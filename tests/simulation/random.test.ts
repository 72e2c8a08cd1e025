import { expect, test } from 'vitest'
import { createRandom } from '../../src/simulation/random.ts'

const many = 20_000
const sample = (draw: () => number) => Array.from({ length: many }, draw)
const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length

test('The same seed gives the same stream, another seed another one.', () => {
  const first = createRandom(7)
  const again = createRandom(7)
  const other = createRandom(8)
  const a = sample(first.uniform)
  expect(sample(again.uniform)).toEqual(a)
  expect(sample(other.uniform).filter((value, i) => value === a[i]).length).toBeLessThan(3)
})

test('A fork depends on seed and name alone, not on what was drawn before.', () => {
  const early = createRandom(3).fork('meter').uniform()
  const late = createRandom(3)
  sample(late.uniform)
  expect(late.fork('meter').uniform()).toBe(early)
  expect(late.fork('hand').uniform()).not.toBe(early)
})

// Tolerances are five standard errors of the mean of 20 000 draws.
test('Uniform, normal and exponential have the means and the variance of their names.', () => {
  const random = createRandom(11)
  const normal = sample(() => random.normal(2))
  expect(Math.abs(mean(sample(random.uniform)) - 0.5)).toBeLessThan((5 * Math.sqrt(1 / 12)) / Math.sqrt(many))
  expect(Math.abs(mean(normal))).toBeLessThan((5 * 2) / Math.sqrt(many))
  expect(Math.abs(mean(normal.map((x) => x * x)) - 4)).toBeLessThan((5 * 4 * Math.SQRT2) / Math.sqrt(many))
  expect(Math.abs(mean(sample(() => random.exponential(3))) - 3)).toBeLessThan((5 * 3) / Math.sqrt(many))
  expect(random.normal(0)).toBe(0)
})
