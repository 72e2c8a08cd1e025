// Before each test file: one that only computes gives way to those that follow real time, whose instruments must not fall behind.
import { setPriority } from 'node:os'
import { beforeAll, expect } from 'vitest'
import { followsRealTime } from './waiting-files.ts'

const givesWay = 10

beforeAll(() => {
  // Never back: the files that follow real time are the first that a worker takes.
  if (!followsRealTime(expect.getState().testPath ?? '')) setPriority(givesWay)
})
