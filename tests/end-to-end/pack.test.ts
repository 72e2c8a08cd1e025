// The package as a user gets it: packed, installed into an empty folder with the Node and npm of this machine, and run there.
import { type ExecFileException, execFile } from 'node:child_process'
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { beforeAll, expect, test } from 'vitest'
import { machinePath } from '../harness/machine-path.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

type Said = { status: number; out: string; err: string }

const root = fileURLToPath(new URL('../../', import.meta.url))
const top = temporaryFolder()
const folder = join(top, 'empty')
const home = join(top, 'home')
const { CI: _ci, NODE_ENV: _mode, VITEST: _vitest, NODE_OPTIONS: _options, ...inherited } = process.env

/** What `command` of this machine says in `cwd`; npm's commands are scripts on Windows, so they need a shell there. */
function say(command: string, args: readonly string[], cwd: string, environment: NodeJS.ProcessEnv = {}) {
  const env = { ...inherited, PATH: machinePath, npm_config_update_notifier: 'false', ...environment }
  const options = { cwd, env, shell: process.platform === 'win32' }
  return new Promise<Said>((done) =>
    execFile(command, args, options, (error: ExecFileException | null, out, err) =>
      done({ status: error === null ? 0 : Number(error.code), out, err }),
    ),
  )
}
// The project's own .npmrc hides warnings, and npm hands it on.
const npm = (args: readonly string[], cwd: string) => say('npm', [...args, '--loglevel=warn'], cwd)
const makebreak = (...args: readonly string[]) =>
  say('npx', ['makebreak', ...args], folder, {
    HOME: home,
    XDG_CONFIG_HOME: join(home, 'config'),
    XDG_DATA_HOME: join(home, 'data'),
    XDG_CACHE_HOME: join(home, 'cache'),
  })

let installed: Said
beforeAll(async () => {
  mkdirSync(folder)
  mkdirSync(home)
  // Not built once more: other tests run what is built.
  const packed = await npm(['pack', '--ignore-scripts', '--pack-destination', top], root)
  const name = packed.out.trim().split('\n').at(-1) ?? ''
  installed = await npm(['install', join(top, name), '--prefer-offline', '--no-audit', '--no-fund'], folder)
}, 300_000)

test('it installs, and npm warns of nothing', async () => {
  expect(installed.status, installed.err).toBe(0)
  // What npm says here of anything at all is not about this package.
  expect(installed.err).toBe((await npm(['config', 'get', 'registry'], folder)).err)
})

test('only what differs from system to system is installed beside it', () => {
  const { dependencies } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'))
  expect(Object.keys(dependencies)).toEqual(['@serialport/parser-readline', 'serialport'])
  const beside = readdirSync(join(folder, 'node_modules')).filter((name) => !name.startsWith('.'))
  expect(beside.filter((name) => !/^(makebreak|node-.*|@lydell)$/.test(name))).toEqual([])
})

test('the licences of all that is bundled go along', () => {
  const bundled = readFileSync(join(folder, 'node_modules/makebreak/dist/THIRD-PARTY-LICENSES.txt'), 'utf8')
  for (const name of ['ink', 'react', 'zod', 'simple-statistics', 'commander', 'yoga-layout'])
    expect(bundled).toMatch(new RegExp(`^${name} \\d+\\.\\d+\\.\\d+ \\((MIT|ISC)\\)\n\n.*[Ll]icense`, 'm'))
  for (const name of ['serialport', 'debug'])
    expect(readdirSync(join(folder, 'node_modules/makebreak/node_modules', name))).toContain('LICENSE')
})

test('it says its version and its help', async () => {
  expect(await makebreak('--version')).toEqual({ status: 0, out: '0.1.0\n', err: '' })
  const { status, out, err } = await makebreak('--help')
  expect({ status, err }).toEqual({ status: 0, err: '' })
  expect(out).toMatch(/^Usage: makebreak/)
})

test('it runs under the Node of this machine, whatever that is', async () => {
  const program = join(folder, 'node_modules/makebreak/dist/src/main.js')
  expect(await say('node', [program, '--version'], folder)).toEqual({ status: 0, out: '0.1.0\n', err: '' })
})

test('it simulates a bench, and the recording replays to a verdict', async () => {
  const simulated = await makebreak('simulate', 'good', '--short', '--out', 'out')
  expect(simulated).toMatchObject({ status: 0, err: '' })
  const recording = readdirSync(join(folder, 'out')).find((name) => name.endsWith('.run'))!
  const { status, out, err } = await makebreak('replay', join('out', recording))
  expect({ status, err }).toEqual({ status: 0, err: '' })
  expect(out).toMatch(/^Verdict: PASS$/m)
})

test('it tests on simulated instruments to a verdict', async () => {
  const { status, out, err } = await makebreak('run')
  expect({ status, err }).toEqual({ status: 0, err: '' })
  expect(out).toMatch(/^Verdict: PASS$/m)
})

test('its recording process starts there and reaches for the ports', async () => {
  const port = { path: join(folder, 'nonesuch'), baudRate: 9600 }
  const rig = {
    manometer: { driver: 'ascii-line', suctionSign: -1, digit: { value: 0.1, unit: 'Pa' }, port },
    meter: { driver: 'ascii-line', pair: 'com-no', port: { ...port, path: join(folder, 'no-other') } },
  }
  const part = { kind: 'draft-proving', rated: { value: 62, unit: 'Pa', on: 'make' } }
  writeFileSync(join(folder, 'rig.json'), JSON.stringify(rig))
  writeFileSync(join(folder, 'part.json'), JSON.stringify(part))
  const { status, err } = await makebreak('run', '--part', 'part.json', '--rig', 'rig.json', '--plain')
  expect(status, err).toBe(69)
  expect(err).toMatch(/^makebreak: There is no port /)
})
