// `run` on simulated instruments in real time, while somebody else is at its recording: no pass without the sealed file at its path.
import {
  copyFileSync,
  existsSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs'
import { dirname, join } from 'node:path'
import { expect, type TestContext, test } from 'vitest'
import { simulatedPath } from '../../src/simulation/wire.ts'
import { programPath, runProgram, startProgram } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { startTerminal } from '../harness/terminal.ts'
import { until } from '../harness/until.ts'

const folder = temporaryFolder()
const port = { path: simulatedPath('good', 1, 5, 'screen') }
const rig = {
  manometer: {
    driver: 'ascii-line',
    suctionSign: -1,
    digit: { value: 0.1, unit: 'Pa' },
    accuracy: { ofReading: 0, ofFullScale: 0.002, fullScale: { value: 250, unit: 'Pa' } },
    port,
  },
  meter: { driver: 'scpi-query', options: { command: 'READ?' }, pair: 'com-no', port },
  // Strokes so brisk tell nothing of a slow hose: without this more of them are asked for.
  proved: { at: new Date().toISOString(), hoseS: 0.002, uHoseS: 0.001, recording: 'the line alone' },
}
writeFileSync(join(folder, 'rig.json'), JSON.stringify(rig))
const brisk = ['--rig', 'rig.json', '--precondition', '0', '--cycles', '5']

type OnTestFinished = TestContext['onTestFinished']

/** A test in plain lines in a data folder of its own; `file` is its recording once that is there. */
function startTest(name: string, onTestFinished: OnTestFinished) {
  const program = startProgram(folder, ['run', ...brisk, '--plain', '--data-dir', name])
  onTestFinished(() => void program.child.kill('SIGKILL'))
  const file = () => /^Recording: (.*)$/m.exec(program.out())?.[1] ?? ''
  return { ...program, file }
}
let begun = 0
const recoveredFrom = (file: string) => file.replace(/\.run$/, '-recovered.run')

const replace = (file: string, fill: (fresh: string) => void) => {
  fill(`${file}.new`)
  renameSync(`${file}.new`, file)
}
const whole = 'whole, sealed'

// Each waits for its instruments: together they take as long as one.
test.concurrent.for<[string, string, string, (file: string) => void]>([
  ['deleted', 'was moved or deleted', whole, (file) => rmSync(file)],
  [
    'replaced by another file',
    'was replaced by another file',
    whole,
    (file) => replace(file, (fresh) => writeFileSync(fresh, 'something else\n')),
  ],
  [
    'replaced by a copy',
    'was replaced by another file',
    whole,
    (file) => replace(file, (fresh) => copyFileSync(file, fresh)),
  ],
  ['gone with its folder', 'was moved or deleted', whole, (file) => rmSync(dirname(file), { recursive: true })],
  ['cut short in place', 'was cut to ', 'seal broken', (file) => truncateSync(file, 3000)],
])(
  'a recording that is %s during the test leaves it undecided, with where it is kept',
  // On a machine so busy that an instrument falls silent, the test may end by that before it is looked at.
  { retry: 2 },
  async ([name, why, kept, act], { onTestFinished }) => {
    const { out, file, ended } = startTest(`${name.replaceAll(' ', '-')}-${++begun}`, onTestFinished)
    await until(() => out().includes('Phase: zero.') && statSync(file()).size > 6000, 'readings', 60_000)
    const path = file()
    act(path)
    const { status, out: told, err } = await ended
    expect(err).toBe('')
    expect(status).toBe(2)
    expect(told).toMatch(/^Verdict: UNDECIDED$/m)
    expect(told).toContain(`\nThe recording ${path} ${why}`)
    expect(told).toContain(` of it is kept in ${recoveredFrom(path)}. The test was abandoned.`)
    expect(told).toMatch(
      /^Next: .*The part is not proven\. Keep the file named last, find out what moved or changed the other/m,
    )
    expect((await runProgram(folder, ['check', recoveredFrom(path)])).out).toContain(kept)
  },
)

test.concurrent('deleted between its end and the verdict, a recording whose part met every limit is not passed, and is kept', {
  timeout: 300_000,
  // On a machine so busy that this test falls behind, the verdict may have been given before the file was deleted.
  retry: 2,
}, async ({ onTestFinished }) => {
  const { file, ended } = startTest(`late-${++begun}`, onTestFinished)
  const atEnd = () => existsSync(file()) && readFileSync(file(), 'latin1').includes('"type":"end"')
  await until(atEnd, 'the end', 200_000)
  rmSync(file())
  const { status, out: told } = await ended
  expect(told).toMatch(/^Verdict: UNDECIDED$/m)
  expect(told).toContain(`was moved or deleted during the test; all of it is kept in ${recoveredFrom(file())}.\n`)
  expect(status).toBe(2)
  const { out: check } = await runProgram(folder, ['check', recoveredFrom(file())])
  expect(check).toContain(whole)
})

test.concurrent('on the screen a recording that is deleted ends the test with the verdict and its reason', async ({
  onTestFinished,
}) => {
  const home = { HOME: folder, XDG_CONFIG_HOME: join(folder, 'config'), XDG_DATA_HOME: join(folder, 'data') }
  const command = [process.execPath, programPath, 'run', ...brisk, '--data-dir', 'screen']
  const terminal = startTerminal(command, { folder, environment: home })
  onTestFinished(() => {
    if (terminal.exit() === null) terminal.kill()
  })
  await terminal.see('manometer ● open')
  const [name = ''] = readdirSync(join(folder, 'screen'))
  rmSync(join(folder, 'screen', name))
  await terminal.see('Enter leave')
  expect(terminal.screen().replaceAll(/\s+/g, ' ')).toContain(
    'was moved or deleted during the test; all of it is kept in',
  )
  terminal.key('\r')
  await terminal.until(() => terminal.exit(), 'the program to end')
  expect(terminal.exit()?.exitCode).toBe(2)
  expect(readdirSync(join(folder, 'screen'))).toEqual([recoveredFrom(name)])
})
