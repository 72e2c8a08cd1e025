// `rig lag` as a user meets it: what to paste, what is left out and why, and rigs that do not belong together.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, expect, test } from 'vitest'
import { rigFileSchema } from '../../src/core/model/rig.ts'
import { findScenario } from '../../src/simulation/find-scenario.ts'
import { runCommand } from '../harness/run-command.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const lag = (...args: string[]) => runCommand(folder, ['rig', 'lag', ...args])

beforeAll(async () => {
  for (const [bench, seed] of [
    ['good', '1'],
    ['good', '2'],
    ['good', '3'],
    ['never-makes', '1'],
    ['network', '1'],
  ] as const)
    await runCommand(folder, ['simulate', bench, '--seed', seed, '--short', '--out', '.'])
  writeFileSync(join(folder, 'empty.run'), '')
})

test('the lag of three tests can be pasted into the rig file; a copy counts once, and what shows none is named', async () => {
  const { status, out, err } = await lag('good-1.run', 'good-2.run', 'good-3.run', 'good-2.run', 'never-makes-1.run')
  expect({ status, err }).toEqual({ status: 0, err: '' })
  expect(out).toMatch(/^good-2\.run: left out: the same test as good-2\.run$/m)
  expect(out).toMatch(/^never-makes-1\.run: left out: neither kicks nor rates show it$/m)
  expect(out).toMatch(/from 3 tests: -?\d\.\d+ s, u 0\.\d+ s\. They (agree|differ)/)
  const [, pasted] = /^ {2}("lag": \{.*\})$/m.exec(out) ?? []
  const { rig } = findScenario('good', 1)
  const parsed = rigFileSchema.parse({ ...rig, ...JSON.parse(`{${pasted}}`) })
  expect(parsed.lag).toMatchObject({ n: 3 })
  const { out: json } = await lag('good-1.run', 'good-2.run', 'good-3.run', '--json')
  expect(JSON.parse(json)).toMatchObject({ lag: parsed.lag, n: 3, tests: [{ file: 'good-1.run' }, {}, {}] })
})

test('recordings of two rigs are refused in one sentence', async () => {
  const { status, out, err } = await lag('good-1.run', 'network-1.run')
  expect({ status, out }).toEqual({ status: 64, out: '' })
  expect(err).toBe(
    'makebreak: network-1.run was made on another rig than good-1.run.\nName recordings of one rig only: the lag belongs to its instruments and hoses.\n',
  )
})

test('where none shows it there is no lag to paste, with status 2; one that cannot be read is named, with status 65', async () => {
  const none = await lag('never-makes-1.run')
  expect(none.status).toBe(2)
  expect(none.out).toMatch(/^No recording shows the lag\.$/m)
  expect(none.out).not.toContain('"lag"')
  const unreadable = await lag('good-1.run', 'empty.run')
  expect(unreadable.status).toBe(65)
  expect(unreadable.err).toMatch(/^makebreak: .*empty\.run/)
  expect(unreadable.out).toContain('"n": 1')
})

test('rig alone says what it can do', async () => {
  const { status, err } = await runCommand(folder, ['rig'])
  expect(status).toBe(64)
  expect(err).toContain('makebreak rig lag RECORDINGS')
})
