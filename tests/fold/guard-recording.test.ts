// The screen process and the recording it follows: no pass unless the sealed file is at its path.
import {
  appendFileSync,
  copyFileSync,
  existsSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { bindDrivers } from '../../src/commands/bind-drivers.ts'
import { tell } from '../../src/commands/describe-run.ts'
import { foldRecording } from '../../src/commands/fold-recording.ts'
import { recordVirtually } from '../../src/commands/record-virtually.ts'
import type { Run } from '../../src/core/intake/run.ts'
import { createGuard, type Guard, unproven, unsealed } from '../../src/fold/guard-recording.ts'
import { loadDrivers } from '../../src/load-drivers.ts'
import { findScenario } from '../../src/simulation/find-scenario.ts'
import { shortened } from '../../src/simulation/good-bench.ts'
import { sampleStart } from '../harness/sample-start.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const findDecode = bindDrivers(await loadDrivers())
const passed = join(folder, 'passed.run')
recordVirtually(shortened(findScenario('good', 1)), 1, passed, findDecode)
const whole = await foldRecording(passed, findDecode)
const id = whole.setup?.start.id ?? ''

let made = 0
/** A sealed recording that passes, as it was followed to its end, and its guard after the first look. */
function followed(runId = id): { file: string; saved: string; guard: Guard; finished: () => readonly string[] } {
  const name = join(folder, `${++made}`)
  const file = `${name}.run`
  copyFileSync(passed, file)
  const { dev, ino } = statSync(file, { bigint: true })
  const finished: string[] = []
  const plan = { file, start: { ...sampleStart, id: runId }, ports: [] }
  const guard = createGuard(plan, { followed: () => ({ dev, ino }), finish: (reason) => finished.push(reason) })
  onTestFinished(() => guard.close())
  guard.look(whole)
  return { file, saved: `${name}-recovered.run`, guard, finished: () => finished }
}
const later = (seconds: number): Run => ({ ...whole, tUs: whole.tUs + seconds * 1e6 })

test('a sealed file at its path is confirmed, and its run passes', async () => {
  const { guard, finished } = followed()
  expect(await guard.confirm(whole)).toBeNull()
  expect(finished()).toEqual([])
  expect(tell(whole).result.verdict).toBe('pass')
})

test.each<[string, (file: string) => void]>([
  ['was moved or deleted during the test', (file) => rmSync(file)],
  [
    'was replaced by another file during the test',
    (file) => {
      copyFileSync(file, `${file}.copy`)
      renameSync(`${file}.copy`, file)
    },
  ],
])('a file that %s after its seal is not confirmed, and all of it is kept', async (why, act) => {
  const { file, saved, guard } = followed()
  act(file)
  expect(await guard.confirm(whole)).toMatchObject({
    code: 'recording-astray',
    message: `The recording ${file} ${why}; all of it is kept in ${saved}.`,
  })
  expect(readFileSync(saved)).toEqual(readFileSync(passed))
})

test.each<[string, (file: string) => void]>([
  ['lost its seal', (file) => truncateSync(file, readFileSync(file).lastIndexOf('\n', -2) + 1)],
  ['has something after its seal', (file) => appendFileSync(file, 'x')],
  [
    'was changed in one byte before its seal',
    (file) => {
      const bytes = readFileSync(file)
      bytes[2000]! ^= 1
      writeFileSync(file, bytes)
    },
  ],
])('a file that %s in place is not confirmed, and what is left of it is kept', async (_, act) => {
  const { file, saved, guard } = followed()
  act(file)
  expect((await guard.confirm(whole))?.message).toBe(
    `The recording ${file} does not end with its seal; what is left of it is kept in ${saved}.`,
  )
  expect(readFileSync(saved)).toEqual(readFileSync(file))
})

test('a recording of another test is not confirmed, and is not saved as if it were this one', async () => {
  const { file, saved, guard } = followed('another id')
  expect(await guard.confirm(whole)).toMatchObject({
    code: 'recording-lost',
    message: `The recording ${file} is that of another test, and no copy could be saved.`,
  })
  expect(existsSync(saved)).toBe(false)
})

test('a tick that finds the file gone gives the test up once, and a file put back changes nothing', async () => {
  const { file, guard, finished } = followed()
  renameSync(file, `${file}.away`)
  guard.look(later(0.1))
  expect(finished()).toEqual([])
  guard.look(later(0.3))
  guard.look(later(0.6))
  expect(finished()).toEqual(['abandoned'])
  renameSync(`${file}.away`, file)
  expect((await guard.confirm(whole))?.message).toContain('was moved or deleted during the test')
})

test('a run that is not confirmed is undecided at best, with the reason first and the next step of the problem', async () => {
  const { file, guard } = followed()
  rmSync(file)
  const astray = await guard.confirm(whole)
  const { result, grounds } = tell(unproven(whole), astray)
  expect(result.verdict).toBe('undecided')
  expect(grounds.astray).toBe(astray)
  expect(tell(unsealed(whole)).result.verdict).toBe('undecided')
  // One whose end was never read has ended all the same.
  expect(unproven({ ...whole, end: null }).end?.reason).toBe('abandoned')
})

test('a run that failed still fails without its file', async () => {
  const path = join(folder, 'failed.run')
  const scenario = shortened(findScenario('off-high', 1))
  recordVirtually(scenario, 1, path, findDecode)
  const run = await foldRecording(path, findDecode)
  expect(tell(run).result.verdict).toBe('fail')
  expect(tell(unproven(run)).result.verdict).toBe('fail')
})
