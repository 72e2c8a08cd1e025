// `npm run bench:start -- [rounds]`: what starting costs with the Node of this machine, launcher included, in CPU time of all processes: the start screen to its first paint, and `--help`; medians, and ratios to the bare Nodes of the same rounds; exit status 1 when a bar is missed.
import { execFileSync, spawnSync } from 'node:child_process'
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { machinePath } from '../harness/machine-path.ts'
import { programPath } from '../harness/run-program.ts'
import { startTerminal } from '../harness/terminal.ts'

const [rounds = 15] = process.argv.slice(2).map(Number)
const paintBarS = 0.6
const helpBarS = 0.25

const home = mkdtempSync(join(tmpdir(), 'bench-start-'))
const environment = {
  PATH: machinePath,
  HOME: home,
  XDG_CONFIG_HOME: join(home, 'config'),
  XDG_DATA_HOME: join(home, 'data'),
  XDG_CACHE_HOME: join(home, 'cache'),
}

/** The fields of proc(5) from the third on. */
function statOf(pid: number | 'self'): string[] {
  const stat = readFileSync(`/proc/${pid}/stat`, 'utf8')
  return stat.slice(stat.lastIndexOf(')') + 2).split(' ')
}
const sumS = (ticks: readonly string[]) => ticks.reduce((sum, tick) => sum + Number(tick) / 100, 0)
/** CPU seconds of all ended children of this process: fields 16 and 17. */
const endedS = () => sumS(statOf('self').slice(13, 15))

/** CPU seconds of a process, its ended children (fields 14 to 17) and those that still run. */
function treeS(pid: number): number {
  const threads = readdirSync(`/proc/${pid}/task`)
  const children = threads.flatMap((id) => readFileSync(`/proc/${pid}/task/${id}/children`, 'utf8').match(/\d+/g) ?? [])
  return children.reduce((sum, child) => sum + treeS(Number(child)), sumS(statOf(pid).slice(11, 15)))
}

function runS(node: string, args: readonly string[]): number {
  const beforeS = endedS()
  execFileSync(node, args, { env: { ...process.env, ...environment }, stdio: 'ignore' })
  return endedS() - beforeS
}

async function paintS(): Promise<number> {
  const terminal = startTerminal(['node', programPath], { environment, folder: home })
  try {
    await terminal.see('Enter choose')
    return treeS(terminal.pid)
  } finally {
    terminal.key('q')
    await terminal.until(() => terminal.exit(), 'the program to end')
  }
}

const version = (node: string) =>
  execFileSync(node, ['--version'], { env: { ...process.env, PATH: machinePath }, encoding: 'utf8' }).trim()
const median = (values: readonly number[]) => values.toSorted((a, b) => a - b)[values.length >> 1]!

// A Node that is too old starts the pinned one, on which this bench runs itself; told that it has, it gives up.
const relaunched = { ...process.env, ...environment, MAKEBREAK_RELAUNCHED: '1' }
const { status } = spawnSync('node', [programPath, 'simulate', '--list'], { env: relaunched })
const nodes = status === 0 ? ['node'] : ['node', process.execPath]
const spent = { bare: [] as number[], help: [] as number[], paint: [] as number[] }
try {
  for (let round = 0; round <= rounds; round++) {
    const bareS = nodes.reduce((sum, node) => sum + runS(node, ['-e', '0']), 0)
    const helpS = runS('node', [programPath, '--help'])
    const firstPaintS = await paintS()
    // The first round fills the caches.
    if (round === 0) continue
    spent.bare.push(bareS)
    spent.help.push(helpS)
    spent.paint.push(firstPaintS)
  }
} finally {
  rmSync(home, { recursive: true, force: true })
}

const [bareS, helpS, firstPaintS] = [median(spent.bare), median(spent.help), median(spent.paint)]
const ratio = (seconds: number) => `× ${(seconds / bareS).toFixed(2)}`
console.log(`${rounds} rounds, medians, Node ${nodes.map(version).join(' and ')}`)
console.log(`bare        ${bareS.toFixed(2)} s`)
console.log(`--help      ${helpS.toFixed(2)} s ${ratio(helpS)} (bar ${helpBarS} s)`)
console.log(`first paint ${firstPaintS.toFixed(2)} s ${ratio(firstPaintS)} (bar ${paintBarS} s)`)
process.exit(helpS > helpBarS || firstPaintS > paintBarS ? 1 : 0)
