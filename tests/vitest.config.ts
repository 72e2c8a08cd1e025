import { availableParallelism } from 'node:os'
import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'
import { LongestFirst } from './longest-first.ts'

export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    include: ['tests/**/*.test.{ts,tsx}'],
    pool: 'forks',
    // Files share their worker's modules: loaded and warmed up once, which is half of the time. So a file leaves behind
    // no changed module, environment or timer.
    isolate: false,
    // Many tests wait for instruments and do not compute: two workers more than there are cores.
    maxWorkers: availableParallelism() + 2,
    sequence: { sequencer: LongestFirst },
    setupFiles: [fileURLToPath(new URL('step-aside.ts', import.meta.url))],
    // Programs that run from the sources strip their types once.
    env: { NODE_COMPILE_CACHE: fileURLToPath(new URL('../node_modules/.cache/compiled', import.meta.url)) },
    // Against hanging only: a busy machine is several times slower, and no test measures time.
    testTimeout: 300_000,
    hookTimeout: 300_000,
  },
})
