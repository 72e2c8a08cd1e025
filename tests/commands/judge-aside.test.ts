// Recordings judged one after the other beside a user's own driver: whatever that does is one sentence, and the others are told.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { openJudge } from '../../src/commands/start/judge-aside.ts'
import { Problem } from '../../src/errors.ts'
import { encodeLine } from '../../src/recording/format.ts'
import { doing, ownDriver, waiting } from '../harness/own-driver.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const good = 'recordings/good-1.run'

/** A folder with a driver of the user's own, and a recording whose manometer needs it. */
function folderOf(id: string, parts: Parameters<typeof ownDriver>[1]): { drivers: string; recording: string } {
  const folder = temporaryFolder()
  const drivers = join(folder, 'drivers')
  mkdirSync(drivers)
  writeFileSync(join(drivers, `${id}.mjs`), ownDriver(id, parts))
  const lines = readFileSync(good, 'utf8').split('\n').slice(0, 40)
  const events = lines.map((line) => JSON.parse(line.slice(9)))
  events[0].rig.manometer = { ...events[0].rig.manometer, driver: id, options: {} }
  const recording = join(folder, 'own.run')
  writeFileSync(recording, Buffer.concat(events.map((event) => encodeLine(event))))
  return { drivers, recording }
}

test('without drivers of the user the recording is told as it is', async () => {
  const judge = await openJudge(join(temporaryFolder(), 'none'))
  expect((await judge.judge(good)).told.result.verdict).toBe('pass')
  judge.stop()
})

test.each([
  ['ends', 'process.exit(0)', 'The driver "ends" ended the program with process.exit.'],
  ['hangs', waiting, 'The driver "hangs" gave no answer for 5 s and was ended.'],
])('a driver that %s is told once, and what comes before and after it as well', async (id, what, why) => {
  const { drivers, recording } = folderOf(id, { decode: doing(what) })
  const judge = await openJudge(drivers)
  expect((await judge.judge(good)).told.result.verdict).toBe('pass')
  const fault = await judge.judge(recording).catch((error: unknown) => error)
  expect(fault).toBeInstanceOf(Problem)
  expect((fault as Problem).message).toBe(why)
  expect((await judge.judge(good)).told.result.verdict).toBe('pass')
  judge.stop()
})

test('a driver that does not load is told before any recording is', async () => {
  const { drivers } = folderOf('broken', { top: 'throw new Error("no such thing")' })
  await expect(openJudge(drivers)).rejects.toThrow('broken.mjs does not load: no such thing.')
})
