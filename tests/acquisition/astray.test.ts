// The recording process and a path that no longer leads to its file: the test ends, what was recorded is kept and told.
import { copyFileSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { expect, test } from 'vitest'
import type { RecordedEvent } from '../../src/core/model/event.ts'
import { createReader } from '../../src/recording/read.ts'
import { simulatedPath } from '../../src/simulation/wire.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { portPlan, type Run, startRun } from './bench.ts'

const folder = temporaryFolder()
let made = 0

/** A run on a simulated manometer, in a folder of its own, with its first readings recorded. */
async function startMeasuring(): Promise<Run> {
  const own = join(folder, `${++made}`)
  mkdirSync(own)
  const run = startRun(own, [portPlan('manometer', simulatedPath('good', 3, 20))])
  await run.sees((event) => event.type === 'rx', 'a reading')
  return run
}
const read = (path: string): RecordedEvent[] => {
  const reader = createReader()
  return [...reader.push(readFileSync(path)), ...reader.finish()]
}
const recoveredFrom = (file: string) => file.replace(/\.run$/, '-recovered.run')

test.each<[string, (file: string) => void]>([
  ['deleted', (file) => rmSync(file)],
  [
    'replaced by another file',
    (file) => {
      writeFileSync(`${file}.new`, 'something else\n')
      renameSync(`${file}.new`, file)
    },
  ],
  [
    'replaced by a copy',
    (file) => {
      copyFileSync(file, `${file}.new`)
      renameSync(`${file}.new`, file)
    },
  ],
  ['gone with its folder', (file) => rmSync(dirname(file), { recursive: true })],
  ['moved with its folder', (file) => renameSync(dirname(file), `${dirname(file)}-moved`)],
])('a recording that is %s ends as abandoned, and all that was read is kept beside', async (_, act) => {
  const run = await startMeasuring()
  act(run.file)
  const problem = await run.exited
  await run.over()
  expect(problem?.code).toBe('recording-astray')
  expect(problem?.message).toContain(`; all of it is kept in ${recoveredFrom(run.file)}.`)
  const events = read(recoveredFrom(run.file))
  expect(events).toEqual(run.events)
  expect(events.slice(-2)).toMatchObject([
    { type: 'end', reason: 'abandoned' },
    { type: 'seal', matches: true },
  ])
})

test('deleted after its end it is kept without the verdict that came too late', async () => {
  const run = await startMeasuring()
  run.finish('finished')
  await run.sees((event) => event.type === 'end', 'end')
  rmSync(run.file)
  run.sendVerdict({ verdict: 'pass' })
  expect((await run.exited)?.code).toBe('recording-astray')
  await run.over()
  expect(read(recoveredFrom(run.file)).slice(-2)).toMatchObject([
    { type: 'end', reason: 'finished' },
    { type: 'seal', matches: true },
  ])
})
