// The help that a newcomer reads: complete, within 80 columns, its example files good.
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { partFileSchema } from '../../src/core/model/part.ts'
import { rigFileSchema } from '../../src/core/model/rig.ts'
import { exitCodes } from '../../src/errors.ts'
import { runCommand } from '../harness/run-command.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const commands = [
  'run',
  'replay',
  'check',
  'key',
  'ports',
  'simulate',
  'curve',
  'report',
  'tag',
  'bundle',
  'capability',
  'plan-bench',
  'rig',
  'driver',
  'schema',
]
const help = async (...command: string[]) => {
  const { status, out, err } = await runCommand(folder, [...command, '--help'])
  expect({ status, err }).toEqual({ status: 0, err: '' })
  return out
}

test('the overview names every command and every exit status', async () => {
  const text = await help()
  for (const command of commands) expect(text).toMatch(new RegExp(`^  ${command} `, 'm'))
  for (const status of [0, 1, 2, ...Object.values(exitCodes)]) expect(text).toMatch(new RegExp(`(^| )${status}  `, 'm'))
})

test('every help shows an example that begins with its command, within 80 columns', async () => {
  for (const command of commands) {
    const text = await help(command)
    expect(text).toMatch(new RegExp(`^  makebreak ${command} `, 'm'))
    // The folders of the user may be of any length.
    const lines = text.split('\n').filter((line) => !line.includes(folder))
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(80)
  }
})

test('the part file and the rig file in the help are good ones', async () => {
  const text = await help('run')
  const objects = [...text.matchAll(/^ {2}\{\n[\s\S]*?^ {2}\}$/gm)].map(([json]) => JSON.parse(json))
  expect(objects).toHaveLength(2)
  expect(partFileSchema.safeParse(objects[0]).error).toBeUndefined()
  expect(rigFileSchema.safeParse(objects[1]).error).toBeUndefined()
})

test('the folders that names are looked up in are shown', async () => {
  expect(await help('run')).toContain(join(folder, 'home', 'config', 'makebreak', 'parts'))
})
