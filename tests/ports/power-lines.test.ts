// Leads that the port powers: how its two lines are set while nothing comes.
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { createPowerLines, type Lines } from '../../src/ports/power-lines.ts'

beforeEach(() => {
  vi.useFakeTimers()
})
afterEach(() => {
  vi.useRealTimers()
})

const text = ({ dtr, rts }: Lines) => `${dtr ? 'DTR' : '-'} ${rts ? 'RTS' : '-'}`

test('both are on at once, each is off in turn while nothing comes, and they stay once something has', () => {
  const set: string[] = []
  const lines = createPowerLines((way) => set.push(text(way)))
  expect(set).toEqual(['DTR RTS'])
  vi.advanceTimersByTime(9000)
  expect(set).toEqual(['DTR RTS', 'DTR -', '- RTS', 'DTR RTS'])
  vi.advanceTimersByTime(3000)
  lines.heard()
  vi.advanceTimersByTime(60_000)
  expect(set.at(-1)).toBe('DTR -')
  expect(set).toHaveLength(5)
})

test('an instrument that speaks at once never sees them change, nor does a port that is closed', () => {
  for (const end of ['heard', 'stop'] as const) {
    const set: string[] = []
    createPowerLines((way) => set.push(text(way)))[end]()
    vi.advanceTimersByTime(60_000)
    expect(set).toEqual(['DTR RTS'])
  }
})
