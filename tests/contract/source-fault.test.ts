// What in a driver's source reaches beyond its arguments, and what only looks like it.
import { expect, test } from 'vitest'
import { sourceFault } from '../../src/contract/source-fault.ts'

test.each([
  ['const a = 1\nconst b = Date.now()', 'line 2 uses Date'],
  ['export const decode = async () => {}', 'line 1 uses async'],
  ['const x = Math.random()', 'line 1 uses random'],
  ["import { a } from './b.mjs'", 'line 1 imports "./b.mjs"; it may import nothing'],
  ["import './b.mjs'", 'line 1 imports "./b.mjs"; it may import nothing'],
  ["import {\n  a,\n} from 'node:fs'", 'line 3 imports "node:fs"; it may import nothing'],
])('%j: %s', (source, fault) => {
  expect(sourceFault(source, [])).toBe(fault)
})

test('words in comments and texts are passed over', () => {
  expect(sourceFault("// from 'a' at a random Date\n/* process\n*/ const help = 'await the Date'", [])).toBeNull()
})

test('what may be imported is', () => {
  const source = "import { a } from '../src/protocol/lines.ts'"
  expect(sourceFault(source, ['../src/'])).toBeNull()
  expect(sourceFault(source, ['../other/'])).toBe('line 1 imports "../src/protocol/lines.ts"; it may import ../other/')
})
