// `npm run bench:accuracy [parts]`: the accuracy table over all scenarios, one process each; exit status 1 when a bar is missed.
import { fork } from 'node:child_process'
import { availableParallelism } from 'node:os'
import { fileURLToPath } from 'node:url'
import { type AccuracyRow, accuracyOf, missedBars } from './accuracy-of.ts'
import { accuracyScenarios } from './accuracy-scenarios.ts'

const [partsText, only] = process.argv.slice(2)
const parts = Number(partsText ?? 1000)

const percent = (share: number) => `${(100 * share).toFixed(1)}`.padStart(5)

function printRow(row: AccuracyRow): void {
  const { rmsPa, coverage, width } = row
  const errors = [rmsPa.script, rmsPa.midpoint, rmsPa.told, rmsPa.untold, rmsPa.bound].map((x) =>
    x.toFixed(3).padStart(8),
  )
  const held = [coverage.make, coverage.break, coverage.differential].map(percent)
  const wide = [width.make, width.break, width.differential].map((x) => x.toFixed(2).padStart(5))
  console.log(
    `${row.name.padEnd(14)}${errors.join('')}   ${held.join(' ')}   ${wide.join(' ')}   ${row.usedCycles.toFixed(2)}`,
  )
}

async function runAll(): Promise<number> {
  console.log(`${parts} parts a scenario, fixed seeds. Pressures in Pa; make and break pooled.`)
  console.log(
    '                 RMS error of the estimator, gauge error taken out   95 % interval holds %   U / (1.96 RMS)     used',
  )
  console.log('                script midpoint    told  untold   bound    make break diff     make break diff')
  const waiting = [...accuracyScenarios]
  const missed: string[] = []
  const work = async () => {
    for (let next = waiting.shift(); next; next = waiting.shift()) {
      const scenario = next
      const child = fork(fileURLToPath(import.meta.url), [String(parts), scenario.name], { execArgv: process.execArgv })
      const row = await new Promise<AccuracyRow>((resolve, reject) => {
        child.on('message', (m) => resolve(m as AccuracyRow))
        child.on('exit', (code) => reject(new Error(`${scenario.name}: ended with ${code}`)))
      })
      printRow(row)
      missed.push(...missedBars(scenario, row))
    }
  }
  await Promise.all(Array.from({ length: Math.min(4, availableParallelism()) }, work))
  for (const line of missed) console.log(`MISSED ${line}`)
  console.log(missed.length === 0 ? 'All bars met.' : `${missed.length} bars missed.`)
  return missed.length === 0 ? 0 : 1
}

if (only === undefined) process.exitCode = await runAll()
else {
  const scenario = accuracyScenarios.find((s) => s.name === only)
  if (!scenario) throw new Error(`no scenario ${only}`)
  process.send?.(accuracyOf(scenario, parts))
}
