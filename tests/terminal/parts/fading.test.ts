import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { createFading } from '../../../src/terminal/parts/fading.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

test('what was said fades once, a longer sentence later than a short one', () => {
  const faded: string[] = []
  for (const said of ['Noted.', 'The bell rings: one at make, two at break.'])
    createFading(() => faded.push(said)).now(said)
  vi.advanceTimersByTime(4500)
  expect(faded).toEqual(['Noted.'])
  vi.advanceTimersByTime(60_000)
  expect(faded).toHaveLength(2)
})

test('something new begins anew, the same again does not, and nothing fades after nothing or the end', () => {
  let count = 0
  const fading = createFading(() => count++)
  fading.now('Noted: a')
  vi.advanceTimersByTime(4000)
  fading.now('Noted: a')
  fading.now('Noted: b')
  vi.advanceTimersByTime(4000)
  expect(count).toBe(0)
  vi.advanceTimersByTime(2000)
  expect(count).toBe(1)
  fading.now('Noted: c')
  fading.now(null)
  fading.now('Noted: d')
  fading.stop()
  vi.advanceTimersByTime(60_000)
  expect(count).toBe(1)
})
