// What a form begins with: a file as it is, or why no form can have it without losing something.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { openSetup } from '../../src/commands/start/open-setup.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const write = (name: string, text: string) => writeFileSync(join(folder, `${name}.json`), text)

test('a file is opened with its text, by which it is known again', async () => {
  write('dp62', '{ "kind": "blockage" }\n')
  const { base, before, namedWrong } = await openSetup('part', folder, 'dp62')
  expect({ base, before }).toEqual({ base: { kind: 'blockage' }, before: '{ "kind": "blockage" }\n' })
  expect(namedWrong('dp62')).toEqual([])
})

test('a new one is empty, and its name must be one that is free', async () => {
  const { base, before, namedWrong } = await openSetup('part', folder, null)
  expect({ base, before }).toEqual({ base: {}, before: null })
  expect(namedWrong('dp63')).toEqual([])
  expect(namedWrong('dp62')).toEqual([{ field: 'file', text: 'There is a part dp62 already.' }])
  expect(namedWrong('')[0]?.text).toMatch(/empty/)
})

test.each([
  ['twice', '{ "lot": "a", "lot": "b" }', /^twice\.json, line 1, column 15: .*lot/],
  ['broken', '{ "lot": }', /^broken\.json, line 1, column /],
  ['list', '[1, 2]', /^list\.json holds \[1, 2\]; it must be an object/],
])('a file that no form can show whole is not opened: %s', async (name, text, sentence) => {
  write(name, text)
  await expect(openSetup('part', folder, name)).rejects.toThrow(sentence)
})
