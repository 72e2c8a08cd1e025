import { expect, test } from 'vitest'
import { createSpaceWatch } from '../../src/fold/watch-space.ts'

/** A watch on a disk with `free` bytes; each look comes 5 s after the last. */
function watch(free: () => number | null) {
  let nowMs = 0
  const look = createSpaceWatch('/data/x.run', free, () => nowMs)
  return (recordedBytes: number, elapsedS: number) => {
    nowMs += 5000
    return look(recordedBytes, elapsedS)
  }
}

test('50 MB are enough for a recording that takes less in an hour, and a byte less is warned of', () => {
  expect(watch(() => 50e6)(1e6, 100)).toBeNull()
  expect(watch(() => 50e6 - 1)(1e6, 100)).toBe(
    'Only 49 MB are free on the disk of the recording, enough for about 83 min: make room, a full disk ends the test.',
  )
})

test('a recording that takes more in an hour than is free is warned of', () => {
  expect(watch(() => 359e6)(10e6, 100)).toMatch(/^Only 359 MB .* about 59 min/)
  expect(watch(() => 360e6)(10e6, 100)).toBeNull()
})

test('in its first seconds a recording says nothing of its pace', () => {
  expect(watch(() => 60e6)(1e6, 1)).toBeNull()
  expect(watch(() => 64e3)(1e3, 0)).toBe(
    'Only 64 kB are free on the disk of the recording: make room, a full disk ends the test.',
  )
})

test('it is told again once half of that is left, and is over where room was made', () => {
  const free = { bytes: 40e6 }
  const look = watch(() => free.bytes)
  const told = look(1, 0)
  free.bytes = 20e6
  expect(look(1, 0)).toBe(told)
  free.bytes = 19e6
  expect(look(1, 0)).toContain('Only 19 MB')
  free.bytes = 90e6
  expect(look(1, 0)).toBeNull()
})

test('where the system does not say what is free, nothing is said', () => {
  expect(watch(() => null)(1e9, 10)).toBeNull()
})
