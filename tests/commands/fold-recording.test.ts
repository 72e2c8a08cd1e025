import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { foldRecording } from '../../src/commands/fold-recording.ts'
import { judgeRecording } from '../../src/commands/judge-recording.ts'
import { rowOf } from '../../src/commands/start/browse-recordings.ts'
import { Problem } from '../../src/errors.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const good = fileURLToPath(new URL('../../recordings/good-1.run', import.meta.url))
const failing = () => () => {
  throw new TypeError('no such digit\n    at decode (driver.mjs:7)')
}

test('a fault of the program in one file is a Problem that names the file, in one line', async () => {
  const fault = await foldRecording(good, failing).catch((error: unknown) => error)
  expect(fault).toBeInstanceOf(Problem)
  expect(fault).toMatchObject({ code: 'internal', message: `${good}: A fault in the program: no such digit.` })
})

test('and a row of the list of recordings, as is a file that cannot be read', async () => {
  const row = await rowOf('good-1.run', () => judgeRecording(good, new Map(), failing))
  expect(row).toMatchObject({ value: 'good-1.run', cells: ['!', 'good-1.run cannot be read'], tone: 'bad' })
  expect(row.about?.join(' ')).toContain('no such digit. Please report it')
  const empty = join(temporaryFolder(), 'empty.run')
  writeFileSync(empty, '')
  expect((await rowOf('empty.run', () => judgeRecording(empty, new Map(), failing))).cells[0]).toBe('!')
})
