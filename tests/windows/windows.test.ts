// The built program under Wine, where that is installed.
import { expect, test } from 'vitest'
import { tryWindows, whyNot } from './wine.ts'

const reason = whyNot()

test.skipIf(reason !== null)(
  `the program does on Windows what it does here${reason === null ? '' : ` (skipped: ${reason})`}`,
  { timeout: 1_800_000 },
  async () => {
    const { status, said, leftRunning } = await tryWindows()
    expect(status, said).toBe(0)
    expect(leftRunning).toEqual([])
  },
)
