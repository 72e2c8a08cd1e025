// A user's own driver in the recording: its digest is kept as the test begins, and told wherever it is another today.
import { createHash } from 'node:crypto'
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, beforeEach, expect, test } from 'vitest'
import { changedDrivers } from '../../src/commands/changed-drivers.ts'
import { judgedBeside } from '../../src/commands/judge-recording.ts'
import { prepareRun } from '../../src/commands/prepare-run.ts'
import { rowOf } from '../../src/commands/start/browse-recordings.ts'
import { initialRun, step } from '../../src/core/intake/run.ts'
import type { StartEvent } from '../../src/core/model/event.ts'
import { loadDrivers } from '../../src/load-drivers.ts'
import { createRecording } from '../../src/recording/append.ts'
import { createReader } from '../../src/recording/read.ts'
import { runCommand } from '../harness/run-command.ts'
import { sampleStart } from '../harness/sample-start.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const own = join(folder, 'home', 'config', 'makebreak', 'drivers')
const before = `export const driver = {
  id: 'my-line', title: 'A line of my own',
  serial: { baudRate: 1200, dataBits: 8, parity: 'none', stopBits: 1 },
  options: {}, channels: [{ name: 'pressure', quantity: 'pressure', unit: 'Pa' }],
  wire: () => ({ framing: { kind: 'bytes' }, start: null, poll: [], maxFrameBytes: 16 }),
  decode: () => ({ readings: [], faults: [], memory: null }),
}
`
const after = `${before}// Corrected.\n`
const digest = (text: string) => createHash('sha256').update(text).digest('hex')
const short = (text: string) => `${digest(text).slice(0, 8)}…`
const note = `The driver "my-line" is not the one that recorded this: its file has changed since (sha256 ${short(before)} then, ${short(after)} now)`

const rig = { ...sampleStart.rig, manometer: { ...sampleStart.rig.manometer!, driver: 'my-line' } }
const drivers = { 'my-line': digest(before) }
const start: StartEvent = { ...sampleStart, type: 'start', format: 1, rig, drivers }

beforeAll(() => {
  mkdirSync(own, { recursive: true })
  const recording = createRecording(join(folder, 'own.run'), { ...sampleStart, rig, drivers })
  recording.append({ type: 'end', t: 1000, reason: 'finished' })
  recording.append({ type: 'verdict', t: 1000, result: { verdict: 'undecided' } })
  recording.seal(1000)
  recording.close()
})
beforeEach(() => writeFileSync(join(own, 'my-line.mjs'), before))

test('a test that begins states the digest of an own driver that its rig uses, and nothing of the others', async () => {
  const drivers = await loadDrivers(own)
  const port = (path: string) => ({ path, baudRate: 9600 })
  const written = {
    manometer: { driver: 'my-line', suctionSign: -1, digit: { value: 0.1, unit: 'Pa' }, port: port('/dev/a') },
    meter: { driver: 'ascii-line', pair: 'com-no', port: port('/dev/b') },
  }
  const startWith = async (rigFile: object) => {
    writeFileSync(join(folder, 'part.json'), JSON.stringify(sampleStart.part))
    writeFileSync(join(folder, 'rig.json'), JSON.stringify(rigFile))
    const [part, rig] = [join(folder, 'part.json'), join(folder, 'rig.json')]
    return (await prepareRun({ part, rig, dataDir: folder, purpose: 'certify' }, async () => drivers)).plan.start
  }
  expect((await startWith(written)).drivers).toEqual({ 'my-line': digest(before) })
  const without = { ...written, manometer: { ...written.manometer, driver: 'ascii-line' } }
  expect(await startWith(without)).not.toHaveProperty('drivers')
})

test('what the first line states of the drivers is read back', () => {
  expect(createReader().push(readFileSync(join(folder, 'own.run')))[0]).toMatchObject({
    drivers: { 'my-line': digest(before) },
  })
})

test('the same file says nothing; another one, one that is gone, and one in its place are named', async () => {
  expect(changedDrivers(start, await loadDrivers(own))).toEqual([])
  expect(changedDrivers({ ...start, drivers: undefined }, await loadDrivers(own))).toEqual([])
  writeFileSync(join(own, 'my-line.mjs'), after)
  expect(changedDrivers(start, await loadDrivers(own))).toEqual([`${note}.`])
  const it = 'is not the one that recorded this'
  expect(changedDrivers(start, new Map())).toEqual([
    `The driver "my-line" ${it}: it is gone (sha256 ${short(before)} then).`,
  ])
  expect(changedDrivers({ ...start, drivers: { 'ascii-line': digest(before) } }, await loadDrivers())).toEqual([
    `The driver "ascii-line" ${it}: makebreak's own is used now (sha256 ${short(before)} then).`,
  ])
})

test('replay tells it beside the verdict, which it does not change, as text and as JSON', async () => {
  const json = async () => JSON.parse((await runCommand(folder, ['replay', 'own.run', '--json'])).out)
  const same = await json()
  expect(same).not.toHaveProperty('notes')
  expect((await runCommand(folder, ['replay', 'own.run'])).out).not.toContain('The driver')
  writeFileSync(join(own, 'my-line.mjs'), after)
  expect(await json()).toEqual({ ...same, notes: [`${note}.`] })
  expect((await runCommand(folder, ['replay', 'own.run'])).out.split('\n')).toContain(`${note}.`)
})

test('check tells it in its line, and calls the file whole all the same', async () => {
  const check = () => runCommand(folder, ['check', 'own.run'])
  expect((await check()).out).toMatch(/^own\.run: whole, sealed; not signed(; recorded .*)?\n$/)
  writeFileSync(join(own, 'my-line.mjs'), after)
  const { out, status } = await check()
  expect(out).toMatch(/^own\.run: whole, sealed; /)
  expect(out.trimEnd()).toContain(`; ${note}`)
  expect(status).toBe(0)
})

test('the list of recordings tells it in the row and below it', async () => {
  const run = step(
    initialRun(() => () => ({ readings: [], faults: [], memory: null })),
    start,
  )
  const row = await rowOf('own.run', async () => judgedBeside(run, await loadDrivers(own)))
  expect(row.cells.at(-1)).not.toContain('driver changed')
  writeFileSync(join(own, 'my-line.mjs'), after)
  const changed = await rowOf('own.run', async () => judgedBeside(run, await loadDrivers(own)))
  expect(changed.cells.at(-1)).toContain('driver changed')
  expect(changed.about).toContain(`${note}.`)
})
