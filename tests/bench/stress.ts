// `npm run bench:stress -- [--n 200] [--rows name,name]`: hard benches by the hundred, a table of what the program said; status 1 where a bar is missed.
import { type ChildProcess, fork } from 'node:child_process'
import { availableParallelism } from 'node:os'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { missedBars, missedTogether, type Sessions, type Tally, tallyOf } from './stress-bars.ts'
import { type Cell, cells, type Instruments, quantities, type ReferenceU } from './stress-benches.ts'
import { type StressRow, stressRows } from './stress-rows.table.ts'
import { referenceU, runSession, type Session } from './stress-session.ts'

/** Sessions that a process runs before it asks for more. */
const chunk = 10

type Job =
  | { kind: 'reference'; instruments: Instruments }
  | { kind: 'sessions'; row: string; cell: Cell; U: ReferenceU; first: number; last: number }

function rowNamed(name: string): StressRow {
  const found = stressRows.find((row) => row.name === name)
  if (!found) throw new Error(`no row "${name}"; there are ${stressRows.map((row) => row.name).join(', ')}`)
  return found
}

function work(job: Job): ReferenceU | Session[] {
  if (job.kind === 'reference') return referenceU(job.instruments)
  const row = rowNamed(job.row)
  return Array.from({ length: job.last - job.first + 1 }, (_, i) => runSession(row, job.cell, job.U, job.first + i))
}

const percent = (share: number) => (100 * share).toFixed(0).padStart(4)

function lineOf(tally: Tally): string {
  const { row } = tally
  const passes = cells.slice(0, 4).map((cell) => String(tally.cells[cell].passed).padStart(5))
  const { good } = tally.cells
  const covered = quantities.map((q) => percent(tally.coverage[q]))
  const width = quantities.map((q) => tally.width[q].toFixed(2).padStart(5))
  return [
    row.name.padEnd(21),
    row.fault.padEnd(6),
    ...passes,
    ` ${String(good.passed).padStart(4)}${String(good.failed).padStart(5)} `,
    ...covered,
    ' ',
    ...width,
    tally.allowancePa.toFixed(2).padStart(6),
    percent(tally.rightShare),
  ].join(' ')
}

const heading = (
  n: number,
) => `${n} sessions a cell, fixed seeds. Passes where the truth is 2, 1, 0.5 U_ref outside a limit, at it, and inside.
                            passes at           good     interval holds %  U/(1.96 RMS)      allow right
row                   fault  out-2 out-1 -0.5   lim   pass fail  make brk diff    make   brk  diff    Pa   %`

async function runAll(n: number, rows: readonly StressRow[]): Promise<number> {
  const workers = Array.from({ length: Math.max(1, availableParallelism()) }, () =>
    fork(fileURLToPath(import.meta.url), ['--worker'], { execArgv: process.execArgv }),
  )
  const idle: ChildProcess[] = [...workers]
  const waiting: ((worker: ChildProcess) => void)[] = []
  const ask = async <T>(job: Job): Promise<T> => {
    const worker = idle.pop() ?? (await new Promise<ChildProcess>((resolve) => waiting.push(resolve)))
    const answer = await new Promise<T>((resolve, reject) => {
      const died = (code: number | null) => reject(new Error(`a process ended with ${code} at ${JSON.stringify(job)}`))
      worker.once('exit', died)
      worker.once('message', (message) => {
        worker.off('exit', died)
        resolve(message as T)
      })
      worker.send(job)
    })
    const next = waiting.shift()
    if (next) next(worker)
    else idle.push(worker)
    return answer
  }

  const sets = [...new Set(rows.map((row) => row.instruments))]
  const references = await Promise.all(sets.map((instruments) => ask<ReferenceU>({ kind: 'reference', instruments })))
  const UOf = new Map(sets.map((set, i) => [set, references[i]!]))
  for (const [set, U] of UOf)
    console.log(`U_ref ${set}: ${quantities.map((q) => `${q} ${U[q].toFixed(2)} Pa`).join(', ')}`)
  console.log(heading(n))

  const total = rows.length * cells.length * n
  let done = 0
  const sessionsOf = async (row: StressRow, cell: Cell): Promise<readonly [Cell, Session[]]> => {
    const starts = Array.from({ length: Math.ceil(n / chunk) }, (_, i) => 1 + i * chunk)
    const parts = await Promise.all(
      starts.map(async (first) => {
        const last = Math.min(n, first + chunk - 1)
        const U = UOf.get(row.instruments)!
        const part = await ask<Session[]>({ kind: 'sessions', row: row.name, cell, U, first, last })
        done += part.length
        process.stderr.write(`${done} of ${total} sessions, ${row.name} ${cell}\n`)
        return part
      }),
    )
    return [cell, parts.flat()]
  }
  const tallies: Tally[] = []
  for (const row of rows) {
    const sessions = Object.fromEntries(await Promise.all(cells.map((cell) => sessionsOf(row, cell))))
    const tally = tallyOf(row, sessions as unknown as Sessions)
    tallies.push(tally)
    console.log(lineOf(tally))
  }
  for (const worker of workers) worker.disconnect()
  const missed = [...tallies.flatMap(missedBars), ...missedTogether(tallies)]
  for (const sentence of missed) console.log(`MISSED ${sentence}`)
  console.log(missed.length === 0 ? 'All bars met.' : `${missed.length} bars missed.`)
  return missed.length === 0 ? 0 : 1
}

const { values } = parseArgs({
  options: { n: { type: 'string' }, rows: { type: 'string' }, worker: { type: 'boolean' } },
})
if (values.worker) process.on('message', (job) => process.send?.(work(job as Job)))
else {
  const n = Number(values.n ?? 200)
  if (!Number.isInteger(n) || n < 1) throw new Error(`--n ${values.n} is not a whole number from 1 up`)
  process.exitCode = await runAll(n, values.rows ? values.rows.split(',').map(rowNamed) : stressRows)
}
