// `run` with a user's own driver that misbehaves: one sentence, a status that is not a verdict, and a recording that is whole.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, type TestContext, test } from 'vitest'
import { simulatedPath } from '../../src/simulation/wire.ts'
import { driverFolder, type Parts } from '../harness/driver-folder.ts'
import { doing, waiting } from '../harness/own-driver.ts'
import { environmentIn, programPath, runProgram, startProgram } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { startTerminal } from '../harness/terminal.ts'

const root = temporaryFolder()
const port = { path: simulatedPath('good', 1, 5, 'screen') }

/** A user's folder with the driver and a rig whose manometer needs it. */
function folderOf(name: string, parts: Parts): { folder: string; id: string; args: string[] } {
  const { folder, id } = driverFolder(root, name, parts)
  const rig = {
    manometer: {
      driver: id,
      suctionSign: -1,
      digit: { value: 1, unit: 'Pa' },
      accuracy: { ofReading: 0, ofFullScale: 0.002, fullScale: { value: 250, unit: 'Pa' } },
      port,
    },
    meter: { driver: 'scpi-query', options: { command: 'READ?' }, pair: 'com-no', port },
  }
  writeFileSync(join(folder, 'rig.json'), JSON.stringify(rig))
  return { folder, id, args: ['run', '--rig', 'rig.json', '--data-dir', 'recorded'] }
}

async function runPlain(name: string, parts: Parts, onTestFinished: TestContext['onTestFinished']) {
  const { folder, id, args } = folderOf(name, parts)
  const program = startProgram(folder, [...args, '--plain'])
  onTestFinished(() => void program.child.kill('SIGKILL'))
  const { status, out, err } = await program.ended
  return { id, folder, status, out, err }
}

/** What `check` says of the one recording that was made, which was given up. */
async function checkRecorded(folder: string): Promise<string> {
  const [name = 'none', ...more] = readdirSync(join(folder, 'recorded'))
  expect(more).toEqual([])
  expect(readFileSync(join(folder, 'recorded', name), 'utf8')).toContain('"reason":"abandoned"')
  return (await runProgram(folder, ['check', join('recorded', name)])).out
}

const oneSentence = (err: string) => {
  expect(err.trimEnd().split('\n')).toHaveLength(2)
  expect(err).not.toMatch(/^ +at /m)
}

const filled =
  '(took more than 600 MB of memory|took more memory than a thread may have|gave no answer for 5 s) and was ended'

test.concurrent.for<[string, Parts, string]>([
  ['ends the program in decode', { decode: doing('process.exit(0)') }, 'ended the program with process\\.exit'],
  ['never comes back from decode', { decode: doing('') }, 'gave no answer for 5 s and was ended'],
  ['throws null later', { top: 'setTimeout(() => { throw null }, 4000)' }, 'failed outside of a call: null'],
  ['fills the heap', { decode: doing('kept.push(new Array(1e7).fill(1.5))') }, filled],
  ['fills memory with Buffers', { decode: doing('kept.push(Buffer.alloc(1e8, 1))') }, filled],
])(
  'a driver that %s ends the test with one sentence, status 70 and a recording that is whole',
  async (row, context) => {
    const [name, parts, sentence] = row
    const { id, folder, status, out, err } = await runPlain(name, parts, context.onTestFinished)
    expect(err).toMatch(
      new RegExp(`^makebreak: The driver "${id}" ${sentence}\\.\nThe recording is whole and proves nothing; `),
    )
    oneSentence(err)
    expect(status).toBe(70)
    expect(out).not.toContain('Verdict')
    expect(await checkRecorded(folder)).toContain('whole, sealed')
  },
)

test.concurrent.for<[string, Parts, string]>([
  ['ends the program as it loads', { top: 'process.exit(0)' }, 'The driver ".*" ended the program with process\\.exit'],
  ['waits for good as it loads', { top: waiting }, 'The driver ".*" gave no answer for 5 s and was ended'],
  ['awaits what never comes', { top: 'await new Promise(() => {})' }, 'its import has not ended after 5 s'],
  ['throws null as it loads', { top: 'throw null' }, 'null'],
])('a driver that %s is told by its file, with status 65, and no recording is begun', async (row, context) => {
  const [name, parts, sentence] = row
  const { id, folder, status, out, err } = await runPlain(name, parts, context.onTestFinished)
  expect(err).toMatch(
    new RegExp(`^makebreak: .*${id}\\.mjs does not load: ${sentence}\\.\nCorrect or remove that driver file`),
  )
  oneSentence(err)
  expect({ status, out }).toEqual({ status: 65, out: '' })
  expect(readdirSync(folder)).not.toContain('recorded')
})

test.concurrent.for<[string, Parts, string]>([
  ['throws null in decode', { decode: doing('throw null') }, 'null'],
  ['throws a text in decode', { decode: doing("throw 'odd'") }, 'odd'],
  ['gives null', { decode: doing('return null') }, 'the result is null'],
  [
    'gives text for a value',
    { decode: doing("return { readings: [{ quantity: 'pressure', value: '1' }], faults: [], memory: null }") },
    'readings\\[0\\]\\.value is .*1',
  ],
])(
  'a driver that %s counts as a port that sends nonsense, with status 69 and a recording that is whole',
  async (row, context) => {
    const [name, parts, sentence] = row
    const { id, folder, status, err } = await runPlain(name, parts, context.onTestFinished)
    expect(err).toMatch(new RegExp(`the last fault being "the driver ${id} failed: .*${sentence}`))
    oneSentence(err)
    expect(status).toBe(69)
    expect(await checkRecorded(folder)).toContain('whole, sealed')
  },
)

test.concurrent('on the screen a driver that never comes back gives the terminal back, with one sentence and status 70', async ({
  onTestFinished,
}) => {
  const { folder, id, args } = folderOf('hangs behind the screen', { decode: doing(waiting) })
  const { HOME = '', XDG_CONFIG_HOME = '', XDG_DATA_HOME = '' } = environmentIn(folder)
  const environment = { HOME, XDG_CONFIG_HOME, XDG_DATA_HOME }
  const terminal = startTerminal([process.execPath, programPath, ...args], { folder, environment })
  onTestFinished(() => {
    if (terminal.exit() === null) terminal.kill()
  })
  await terminal.until(() => terminal.exit(), 'the program to end')
  // Long lines are broken anywhere.
  const unbroken = (text: string) => text.replaceAll(/\s+/g, '')
  const told = `makebreak: The driver "${id}" gave no answer for 5 s and was ended. The recording is whole`
  expect(unbroken(terminal.screen())).toContain(unbroken(told))
  expect(terminal.exit()?.exitCode).toBe(70)
  expect(await checkRecorded(folder)).toContain('whole, sealed')
})
