// The list of deliberate errors against the tree: each still has its place and its test.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { mutants } from '../mutants.table.ts'

const root = fileURLToPath(new URL('../..', import.meta.url))
const read = (path: string) => readFileSync(join(root, path), 'utf8')

test.each(mutants)('$error', ({ file, text, replacement, test: path, name }) => {
  expect(read(file).split(text)).toHaveLength(2)
  expect(replacement).not.toBe(text)
  // A name that is put together from its case is found by its beginning.
  expect(read(path)).toContain(name.replace(/0\.5 s$/, ''))
})
