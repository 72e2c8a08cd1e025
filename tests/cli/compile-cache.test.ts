// The compiled program is kept between two starts where that can be done, and nothing is said where it cannot.
import { existsSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { runProgram } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const variables = ['XDG_CACHE_HOME', 'NODE_COMPILE_CACHE'] as const
const before = variables.map((name) => process.env[name])

afterEach(() => {
  for (const [i, name] of variables.entries()) {
    if (before[i] === undefined) delete process.env[name]
    else process.env[name] = before[i]
  }
})

/** Runs the program with `cache` as the user's cache folder. */
async function runWith(cache: string): Promise<void> {
  delete process.env['NODE_COMPILE_CACHE']
  process.env['XDG_CACHE_HOME'] = cache
  expect(await runProgram(folder, ['--version'])).toEqual({ status: 0, signal: null, out: '0.1.0\n', err: '' })
}

test.runIf(process.platform === 'linux')('it is kept in a folder of its own within the user’s', async () => {
  const cache = join(folder, 'cache')
  await runWith(cache)
  const [version = ''] = readdirSync(join(cache, 'makebreak'))
  expect(readdirSync(join(cache, 'makebreak', version)).length).toBeGreaterThan(0)
})

test('where a file is in its way, the program runs without', async () => {
  const file = join(folder, 'file')
  writeFileSync(file, '')
  await runWith(file)
})

test('where the folder above it is not there, none is made', async () => {
  await runWith(join(folder, 'absent', 'cache'))
  expect(existsSync(join(folder, 'absent'))).toBe(false)
})

test('where the folder may be read only, the program runs without', async () => {
  const cache = join(folder, 'read-only')
  mkdirSync(join(cache, 'makebreak'), { recursive: true, mode: 0o555 })
  await runWith(cache)
})
