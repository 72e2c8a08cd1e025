// The project's own files against the rules of the tree; the rules themselves are tried in rules.test.ts.
import { spawnSync } from 'node:child_process'
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { pressuresByHand } from './pressures-by-hand.ts'
import { readImports } from './read-imports.ts'
import {
  bareNumbers,
  circles,
  impurities,
  type SourceFile,
  wrongImports,
  wrongLayers,
  wrongPackages,
  wrongShape,
  wrongSharing,
  wrongTopLevel,
} from './rules.ts'

const root = fileURLToPath(new URL('../..', import.meta.url))

const files: SourceFile[] = ['src', 'drivers', 'tests'].flatMap((folder) =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .map((name) => `${folder}/${name.replaceAll('\\', '/')}`)
    .filter((path) => /\.tsx?$/.test(path))
    .map((path) => ({ path, text: readFileSync(join(root, path), 'utf8') })),
)

/** Imports between the project's files as the compiler sees them, type imports too. */
function importsOfProject() {
  const compiler = fileURLToPath(import.meta.resolve('typescript/package.json')).replace(/package\.json$/, 'bin/tsc')
  // The types themselves are checked by `npm run types`.
  const args = [compiler, '-p', 'tests/tsconfig.json', '--explainFiles', '--noCheck']
  const { stdout } = spawnSync(process.execPath, args, { cwd: root, encoding: 'utf8', maxBuffer: 64_000_000 })
  return readImports(stdout)
}
const imports = importsOfProject()

test('dependencies run one way', () => {
  expect(imports).toContainEqual({ from: 'src/cli.ts', to: 'src/errors.ts' })
  expect(imports).toContainEqual({ from: 'src/cli.ts', to: 'src/commands/ports.ts' })
  expect(imports).toContainEqual({ from: 'src/core/intake/run.ts', to: 'src/core/model/samples.ts' })
  expect(wrongImports(imports)).toEqual([])
})

test('the rooms of the core and of the terminal import downwards only', () => {
  expect(wrongLayers(imports)).toEqual([])
})

test('the second reader shares nothing with the fit that it checks', () => {
  expect(imports).toContainEqual({
    from: 'src/core/decision/second-reader.ts',
    to: 'src/core/decision/raw-strokes.ts',
  })
  expect(wrongSharing(imports)).toEqual([])
})

test('no files import each other in a circle', () => {
  expect(circles(imports)).toEqual([])
})

test('each part uses its own packages only', () => {
  expect(files.flatMap(wrongPackages)).toEqual([])
})

test('the pure parts have no clock, no chance, no waiting and no output', () => {
  expect(files.filter(({ path }) => path.startsWith('src/core/')).length).toBeGreaterThan(10)
  expect(files.flatMap(impurities)).toEqual([])
})

test('the core compares with no number but those of its table', () => {
  expect(files.flatMap(bareNumbers)).toEqual([])
})

test('one file writes pressures, all others through it', () => {
  expect(files.flatMap(pressuresByHand)).toEqual([])
})

test('files are named for what they are, short, and open with a sentence', () => {
  expect(files.flatMap(wrongShape)).toEqual([])
})

test('the top folder holds what it is meant to', () => {
  expect(wrongTopLevel(readdirSync(root))).toEqual([])
})
