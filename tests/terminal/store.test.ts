import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { createStore } from '../../src/terminal/store.ts'
import { sampleLive } from './sample-lives.ts'

beforeEach(() => {
  vi.useFakeTimers()
})
afterEach(() => {
  vi.useRealTimers()
})

test('a thousand states between two ticks are told once, and the last one is shown', () => {
  const store = createStore()
  let told = 0
  const end = store.subscribe(() => told++)
  for (let i = 0; i < 1000; i++) store.set(sampleLive(1, { elapsedS: i }))
  expect(store.shown()).toBeNull()
  vi.advanceTimersByTime(100)
  expect(told).toBe(1)
  expect(store.shown()?.elapsedS).toBe(999)
  vi.advanceTimersByTime(1000)
  expect(told).toBe(1)
  end()
})

test('what is shown does not change between ticks', () => {
  const store = createStore()
  const first = sampleLive(1)
  store.set(first)
  const end = store.subscribe(() => {})
  store.set(sampleLive(2))
  expect(store.shown()).toBe(first)
  end()
})

test('no timer runs once nobody is subscribed', () => {
  const store = createStore()
  const ends = [store.subscribe(() => {}), store.subscribe(() => {})]
  expect(vi.getTimerCount()).toBe(1)
  for (const end of ends) end()
  expect(vi.getTimerCount()).toBe(0)
})
