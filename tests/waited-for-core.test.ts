// A thread by itself into the time that it waited for a core, as far as the system tells.
import { readlinkSync } from 'node:fs'
import { expect, test } from 'vitest'
import { waitedForCoreMs } from '../src/waited-for-core.ts'

test.runIf(process.platform === 'linux')(
  'a thread of this process has waited for a while, never less than before',
  () => {
    const thread = Number(readlinkSync('/proc/thread-self').split('/').at(-1))
    const beforeMs = waitedForCoreMs(thread)
    expect(beforeMs).toBeGreaterThanOrEqual(0)
    expect(waitedForCoreMs(thread)).toBeGreaterThanOrEqual(beforeMs)
  },
)

test('of a thread that is not known nothing is told', () => {
  expect(waitedForCoreMs(0)).toBe(0)
  expect(waitedForCoreMs(2 ** 30)).toBe(0)
})
