// The launcher: an old Node hands over to the one installed beside it, and whatever happens there comes back.
import { spawnSync } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { machinePath } from '../harness/machine-path.ts'
import { programPath, runProgram, startProgram } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { createVirtualSerial } from '../harness/virtual-serial.ts'

const folder = temporaryFolder()

/** Arguments that make this Node say it is `version`: only the process they are given to, not the one it starts. */
function pretendNode(version: string): string[] {
  const file = join(folder, `node-${version}.mjs`)
  const versions = `{ ...process.versions, node: '${version}' }`
  writeFileSync(
    file,
    `Object.defineProperty(process, 'versions', { value: ${versions} })
Object.defineProperty(process, 'version', { value: 'v${version}' })\n`,
  )
  return ['--import', file]
}

// The pinned Node comes as a package for these platforms only; elsewhere Node 24 is installed by hand.
const hasPinned = ['linux-x64', 'linux-arm64', 'win32-x64'].includes(`${process.platform}-${process.arch}`)

test.runIf(hasPinned).each(['18.19.0', '20.20.2', '22.12.0'])(
  'Node %s starts the program on the pinned Node',
  async (version) => {
    const ended = await runProgram(folder, ['simulate', '--list'], pretendNode(version))
    expect(ended).toMatchObject({ status: 0, signal: null, err: '' })
    expect(ended.out).toMatch(/^good/m)
  },
)

test.runIf(hasPinned)('the exit status comes back through it', async () => {
  const { status, err } = await runProgram(folder, ['nonesuch'], pretendNode('20.20.2'))
  expect(status).toBe(64)
  expect(err).toMatch(/^makebreak: unknown command 'nonesuch'/)
})

test.runIf(hasPinned && process.platform !== 'win32')('a signal goes down and ends both', async () => {
  const port = createVirtualSerial(join(folder, 'silent'))
  port.plug()
  const program = startProgram(folder, ['ports', port.path, '--listen', '600'], pretendNode('20.20.2'))
  while (!program.out().includes(port.path)) await new Promise((done) => setTimeout(done, 20))
  program.child.kill('SIGTERM')
  expect(await program.ended).toMatchObject({ status: null, signal: 'SIGTERM' })
  port.unplug()
})

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
  const ended = await runProgram(folder, ['simulate', '--list'], pretendNode('20.20.2'))
  delete process.env['MAKEBREAK_RELAUNCHED']
  expect(ended).toMatchObject({ status: 78, out: '' })
  expect(ended.err).toBe(
    'makebreak: Node 22.13 or newer is needed and this is v20.20.2; install Node 24, then run the command again.\n',
  )
})
