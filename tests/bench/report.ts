// `npm run bench:report`: CPU time of the report of 400 cycles, and of a lot of 40 recordings with its summary, the whole command; exit status 1 when a bar is missed.
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { reportOf } from '../../src/report/model/report-of.ts'
import { writeReportPdf } from '../../src/report/write-report-pdf.ts'
import { programPath } from '../harness/run-program.ts'
import { changedInput, goldenInput } from '../harness/sample-report.ts'

const [manyCycles, lotSize] = [400, 40]
const [manyBarS, lotBarS] = [1, 10]

const home = mkdtempSync(join(tmpdir(), 'bench-report-'))
const environment = {
  ...process.env,
  ...{ HOME: home, XDG_CONFIG_HOME: join(home, 'config'), XDG_DATA_HOME: join(home, 'data') },
}

/** CPU seconds of all ended children of this process: proc(5), fields 16 and 17. */
function endedS(): number {
  const stat = readFileSync('/proc/self/stat', 'utf8')
  const [user = 0, system = 0] = stat
    .slice(stat.lastIndexOf(')') + 2)
    .split(' ')
    .slice(13, 15)
    .map(Number)
  return (user + system) / 100
}

/** CPU seconds of the program with these arguments, which has to end with one of `statuses`. */
function programS(args: readonly string[], statuses: readonly number[]): number {
  const beforeS = endedS()
  const { status, stderr } = spawnSync(process.execPath, [programPath, ...args], { env: environment, cwd: home })
  if (status === null || !statuses.includes(status)) throw new Error(`${args[0]}: status ${status}, ${stderr}`)
  return endedS() - beforeS
}

/** Prints the row; whether the bar is met. */
function row(what: string, tookS: number, barS: number): boolean {
  const met = tookS <= barS
  console.log(`${met ? 'met   ' : 'MISSED'} ${what}: ${tookS.toFixed(2)} s of CPU, bar ${barS} s`)
  return met
}

async function manyAreQuick(): Promise<boolean> {
  const input = await goldenInput('good-1')
  const { cycles } = input.result
  const many = Array.from({ length: manyCycles }, (_, i) => ({ ...cycles[i % cycles.length]!, stroke: i + 1 }))
  const before = process.cpuUsage()
  const pdf = await writeReportPdf(reportOf(changedInput(input, {}, { cycles: many })), 'a4')
  const { user, system } = process.cpuUsage(before)
  return row(`a report of ${manyCycles} cycles as PDF, ${pdf.length} bytes`, (user + system) / 1e6, manyBarS)
}

/** `short`: with little rest between the strokes, a third of the lines. */
function lotIsQuick(short: boolean, barS: number): boolean {
  const folder = join(home, short ? 'short' : 'full')
  for (let seed = 1; seed <= lotSize; seed++)
    programS(['simulate', 'good', '--seed', String(seed), '--out', folder, ...(short ? ['--short'] : [])], [0])
  const files = readdirSync(folder).filter((name) => name.endsWith('.run'))
  const bytes = files.reduce((sum, name) => sum + statSync(join(folder, name)).size, 0) / files.length
  const tookS = programS(['report', ...files.map((name) => join(folder, name)), '--out', join(home, 'papers')], [0])
  const what = `${files.length} recordings of ${Math.round(bytes / 1000)} kB as PDF, with their summary`
  return row(what, tookS, barS)
}

try {
  const met = [await manyAreQuick(), lotIsQuick(true, lotBarS)]
  if (process.argv.includes('--full')) met.push(lotIsQuick(false, lotBarS))
  process.exitCode = met.every(Boolean) ? 0 : 1
} finally {
  rmSync(home, { recursive: true, force: true })
}
