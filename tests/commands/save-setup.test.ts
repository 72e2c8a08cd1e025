// Parts and rigs saved: whole, inside their folder, never over what somebody else wrote.
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { nameMistake, saveSetup, setupText } from '../../src/commands/save-setup.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const part = { kind: 'blockage' }

describe('a set-up', () => {
  test('that is new makes its folder and its file, and leaves nothing else behind', async () => {
    const own = join(folder, 'config', 'parts')
    expect(await saveSetup(own, 'dp62', part, null)).toBe(join(own, 'dp62.json'))
    expect(readFileSync(join(own, 'dp62.json'), 'utf8')).toBe(setupText(part))
    expect(readdirSync(own)).toEqual(['dp62.json'])
  })
  test('that is new is never written over a file of that name', async () => {
    const own = join(folder, 'taken')
    await saveSetup(own, 'dp62', part, null)
    await expect(saveSetup(own, 'dp62', { other: 1 }, null)).rejects.toMatchObject({ code: 'setup-changed' })
    expect(readFileSync(join(own, 'dp62.json'), 'utf8')).toBe(setupText(part))
    expect(readdirSync(own)).toEqual(['dp62.json'])
  })
  test('that was opened is replaced as long as nobody else changed it meanwhile', async () => {
    const own = join(folder, 'edited')
    const path = await saveSetup(own, 'dp62', part, null)
    await saveSetup(own, 'dp62', { kind: 'second' }, setupText(part))
    writeFileSync(path, '{"kind":"by hand"}\n')
    await expect(saveSetup(own, 'dp62', { kind: 'third' }, setupText({ kind: 'second' }))).rejects.toMatchObject({
      code: 'setup-changed',
    })
    expect(readFileSync(path, 'utf8')).toBe('{"kind":"by hand"}\n')
    expect(readdirSync(own)).toEqual(['dp62.json'])
  })
  test('whose folder cannot be made says so', async () => {
    mkdirSync(folder, { recursive: true })
    writeFileSync(join(folder, 'file'), '')
    await expect(saveSetup(join(folder, 'file'), 'dp62', part, null)).rejects.toMatchObject({
      code: 'folder-unwritable',
    })
  })
})

describe('the name of a set-up', () => {
  test.each(['../x', 'a/b', 'a\\b', '..', '.', '', 'con', 'LPT1', 'x'.repeat(61), 'a b', 'ä', '-x', '.hidden'])(
    '"%s" is refused and never leaves its folder',
    async (name) => {
      expect(nameMistake(name)).not.toBeNull()
      await expect(saveSetup(join(folder, 'refused'), name, part, null)).rejects.toMatchObject({ code: 'usage' })
    },
  )
  test.each(['dp62', 'DP-62_b', 'x'.repeat(60), '7'])('"%s" is one', (name) => expect(nameMistake(name)).toBeNull())
})
