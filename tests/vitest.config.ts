import { availableParallelism } from 'node:os'
import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'

export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    include: ['tests/**/*.test.{ts,tsx}'],
    pool: 'forks',
    // Many tests wait for instruments and do not compute: one worker a core, also where there are only two.
    maxWorkers: Math.max(2, availableParallelism()),
    // Against hanging only: a busy machine is several times slower, and no test measures time.
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
})
