// What the built program loads: each command its own packages only, so that none waits for what it does not need.
import { readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { expect, test } from 'vitest'
import { programPath } from '../harness/run-program.ts'

const built = join(dirname(programPath), '..')

/** Packages in `file` of the built program and in all that it imports at once: bundled ones are named in comments, the others imported. */
function packagesOf(file: string, seen: Set<string> = new Set()): Set<string> {
  const path = join(built, file)
  const packages = new Set<string>()
  if (seen.has(path)) return packages
  seen.add(path)
  const text = readFileSync(path, 'utf8')
  for (const [, name = ''] of text.matchAll(/^\/\/ (?:.*\/)?node_modules\/((?:@[^/]+\/)?[^/]+)/gm)) packages.add(name)
  for (const [, from = ''] of text.matchAll(/^(?:import|export) (?:[^"]* from )?"([^"]+)"/gm)) {
    const found = from.startsWith('.') ? packagesOf(join(dirname(file), from), seen) : [from]
    for (const name of found) packages.add(name)
  }
  return packages
}

test.each([
  ['src/start-program.mjs', ['env-paths', 'is-safe-filename']],
  ['src/cli.mjs', ['commander', 'env-paths', 'is-safe-filename']],
  ['src/contract/main.mjs', ['zod']],
  ['src/commands/check.mjs', ['get-east-asian-width', 'zod']],
  ['src/commands/replay.mjs', ['env-paths', 'get-east-asian-width', 'is-safe-filename', 'simple-statistics', 'zod']],
])('%s loads %j', (file, packages) => {
  expect([...packagesOf(file)].sort()).toEqual(packages)
})

test('the start screen is drawn without what its rows need', () => {
  const packages = packagesOf('src/commands/start/start-screens.mjs')
  expect([...packages]).toEqual(expect.arrayContaining(['ink', 'react']))
  for (const name of ['commander', 'd3-scale', 'serialport', 'simple-statistics', 'zod'])
    expect(packages).not.toContain(name)
})

test('the recording process draws nothing', () => {
  const packages = packagesOf('src/acquisition/main.mjs')
  expect([...packages]).toEqual(expect.arrayContaining(['serialport', '@serialport/parser-readline']))
  for (const name of ['ink', 'react', 'commander', 'simple-statistics']) expect(packages).not.toContain(name)
})

test('the worker of a live test neither draws nor opens ports', () => {
  const packages = packagesOf('src/fold/main.mjs')
  expect([...packages]).toEqual(expect.arrayContaining(['zod', 'simple-statistics']))
  for (const name of ['ink', 'react', 'commander', 'serialport']) expect(packages).not.toContain(name)
})
