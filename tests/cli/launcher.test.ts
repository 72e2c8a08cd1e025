// The launcher: an old Node hands over to the one installed beside it, and whatever happens there comes back.
import { fork, spawnSync } from 'node:child_process'
import { readdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { simulatedPath } from '../../src/simulation/wire.ts'
import { machinePath } from '../harness/machine-path.ts'
import { hasPinned, pretendNode } from '../harness/pretend-node.ts'
import { descendantsOf, isGone } from '../harness/processes.ts'
import { environmentIn, programPath, runProgram, startProgram } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { until } from '../harness/until.ts'
import { createVirtualSerial } from '../harness/virtual-serial.ts'

const folder = temporaryFolder()

test.runIf(hasPinned).each(['18.19.0', '20.20.2', '22.12.0'])(
  'Node %s starts the program on the pinned Node',
  async (version) => {
    const ended = await runProgram(folder, ['simulate', '--list'], pretendNode(folder, version))
    expect(ended).toMatchObject({ status: 0, signal: null, err: '' })
    expect(ended.out).toMatch(/^good/m)
  },
)

test.runIf(hasPinned)('the exit status comes back through it', async () => {
  const { status, err } = await runProgram(folder, ['nonesuch'], pretendNode(folder, '20.20.2'))
  expect(status).toBe(64)
  expect(err).toMatch(/^makebreak: unknown command 'nonesuch'/)
})

test.runIf(hasPinned && process.platform !== 'win32')('a signal goes down and ends both', async () => {
  const port = createVirtualSerial(join(folder, 'silent'))
  port.plug()
  const program = startProgram(folder, ['ports', port.path, '--listen', '600'], pretendNode(folder, '20.20.2'))
  while (!program.out().includes(port.path)) await new Promise((done) => setTimeout(done, 20))
  program.child.kill('SIGTERM')
  expect(await program.ended).toMatchObject({ status: null, signal: 'SIGTERM' })
  port.unplug()
})

/** The program as the launcher starts it, with a channel; it listens to a silent port until it is told to end. */
function startListening(name: string) {
  const port = createVirtualSerial(join(folder, name))
  port.plug()
  onTestFinished(port.unplug)
  const child = fork(programPath, ['ports', port.path, '--listen', '600'], {
    ...{ cwd: folder, silent: true, env: { ...environmentIn(folder), MAKEBREAK_RELAUNCHED: '1' } },
  })
  const ended = new Promise((done) => child.on('exit', (_, signal) => done(signal)))
  const listens = new Promise<void>((done) => child.stdout?.on('data', () => done()))
  return { child, ended, listens }
}

test('what the launcher says in place of a signal ends the program as that signal would', async () => {
  const { child, ended, listens } = startListening('told')
  await listens
  child.send({ signal: 'SIGHUP' })
  expect(await ended).toBe('SIGHUP')
})

test('a launcher that lets go of the program ends it', async () => {
  const { child, ended, listens } = startListening('let-go')
  await listens
  child.disconnect()
  expect(await ended).toBe('SIGTERM')
})

test.runIf(hasPinned && process.platform === 'linux')(
  'a launcher that is killed in a test ends the program and the recording process, and the recording is sealed as abandoned',
  async () => {
    const port = { path: simulatedPath('good', 1, 5, 'screen') }
    const rig = {
      manometer: { driver: 'ascii-line', suctionSign: -1, digit: { value: 0.1, unit: 'Pa' }, port },
      meter: { driver: 'scpi-query', options: { command: 'READ?' }, pair: 'com-no', port },
    }
    writeFileSync(join(folder, 'rig.json'), JSON.stringify(rig))
    const args = ['run', '--rig', 'rig.json', '--plain', '--data-dir', 'data']
    const { child, out, ended } = startProgram(folder, args, pretendNode(folder, '20.20.2'))
    await until(() => out().includes('Phase: zero.'), 'readings')
    const family = descendantsOf(child.pid!)
    expect(family).toHaveLength(2)
    child.kill('SIGKILL')
    expect((await ended).out).toContain('The test was abandoned.')
    await until(() => family.every(isGone), 'both processes to end')
    const [name = ''] = readdirSync(join(folder, 'data'))
    expect((await runProgram(folder, ['check', join('data', name)])).out).toMatch(
      /: whole, sealed; simulated, so not signed$/m,
    )
  },
)

test.each([['--help'], ['run', '--help'], ['schema', '-h'], ['--version']])(
  'the Node of this machine says %s %s itself, word for word as the pinned one',
  async (...args) => {
    const options = { cwd: folder, env: { ...process.env, PATH: machinePath, MAKEBREAK_RELAUNCHED: '1' } }
    const said = spawnSync('node', [programPath, ...args], { ...options, encoding: 'utf8' })
    const here = spawnSync(process.execPath, [programPath, ...args], { ...options, encoding: 'utf8' })
    expect([said.status, said.stderr, said.stdout]).toEqual([0, '', here.stdout])
    expect(here.stdout).not.toBe('')
  },
)

test('where no Node fits, one sentence says so and the status is 78', async () => {
  process.env['MAKEBREAK_RELAUNCHED'] = '1'
  const ended = await runProgram(folder, ['simulate', '--list'], pretendNode(folder, '20.20.2'))
  delete process.env['MAKEBREAK_RELAUNCHED']
  expect(ended).toMatchObject({ status: 78, out: '' })
  expect(ended.err).toBe(
    'makebreak: Node 22.13 or newer is needed and this is v20.20.2; install Node 24, then run the command again.\n',
  )
})
