// `npm run pictures`: the main screens of the running program, on the simulated bench, into the pictures that the read-me shows.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { findScenario } from '../../src/simulation/find-scenario.ts'
import { simulatedPath } from '../../src/simulation/wire.ts'
import { programPath } from '../harness/run-program.ts'
import { startTerminal, type Terminal } from '../harness/terminal.ts'
import { pictureOf } from './picture.ts'

const folder = mkdtempSync(join(tmpdir(), 'pictures-'))
const home = join(folder, 'home')
mkdirSync(home)
const environment = { HOME: home, XDG_CONFIG_HOME: join(home, 'config'), XDG_DATA_HOME: join(home, 'data') }

function start(columns: number, rows: number, ...args: string[]): Terminal {
  return startTerminal([process.execPath, programPath, ...args], { folder, columns, rows, environment })
}

function keep(terminal: Terminal, name: string, title: string): void {
  const path = fileURLToPath(new URL(`${name}.svg`, import.meta.url))
  writeFileSync(path, pictureOf(terminal.cells(), title))
  console.log(path)
}

async function leave(terminal: Terminal): Promise<void> {
  terminal.kill('SIGTERM')
  await terminal.until(() => terminal.exit(), 'the program to end')
}

/** The simulated bench `name`, its hand following the screen. */
function writeRig(name: string): string {
  const { rig } = findScenario(name, 1)
  const port = { ...rig.meter!.port, path: simulatedPath(name, 1, 2, 'screen') }
  const path = join(folder, `${name}.json`)
  const meter = { ...rig.meter!, port, options: { command: 'READ?', intervalMs: 100 } }
  writeFileSync(path, JSON.stringify({ ...rig, manometer: { ...rig.manometer!, port }, meter }))
  return path
}

async function drawTest(): Promise<void> {
  const terminal = start(140, 45, 'run', '--rig', writeRig('good'), '--data-dir', 'out', '--no-bell')
  const shows = (...texts: readonly string[]) =>
    terminal.until(() => texts.every((text) => terminal.screen().includes(text)), texts.join(' and '), 240_000)
  await shows('Enter understood')
  terminal.key('\r')
  await shows('3 of 7 counted', 'Draw', 'good pace')
  keep(terminal, 'test', 'A test in its fourth counted cycle, on a large terminal')
  terminal.resize(80, 24)
  await shows('4/5', 'Draw')
  keep(terminal, 'test-small', 'The same test on a terminal of 80 by 24')
  await shows('Enter leave')
  keep(terminal, 'verdict', 'The verdict of the test')
  await leave(terminal)
}

async function drawStart(): Promise<void> {
  const terminal = start(80, 24)
  await terminal.see('Enter choose')
  keep(terminal, 'start', 'The start screen')
  await leave(terminal)
}

try {
  await drawStart()
  await drawTest()
} finally {
  rmSync(folder, { recursive: true, force: true })
}
process.exit()
