// `npm run bench:faults -- [--n 200] [--stall-s 30] [--rows name,name] [--seed 1] [--at-a-time 2]`: processes killed, cables pulled, files taken away: what was lost; status 1 where anything was.
import { availableParallelism } from 'node:os'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { createRandom } from '../../src/simulation/random.ts'
import { type Outcome, sufferFault } from './fault-session.ts'
import { type Fault, faults } from './faults.table.ts'

const { values } = parseArgs({
  options: {
    n: { type: 'string', default: '200' },
    'stall-s': { type: 'string', default: '30' },
    rows: { type: 'string' },
    seed: { type: 'string', default: '1' },
    // Most of a test is waiting: more at a time than there are cores is quicker, until they hold each other up.
    'at-a-time': { type: 'string', default: String(availableParallelism()) },
  },
})
if (process.platform !== 'linux')
  throw new Error('processes are counted as Linux lists them: this bench runs there only')
// Each test has folders of its own; the program is compiled once for all.
process.env['NODE_COMPILE_CACHE'] ??= fileURLToPath(new URL('../../node_modules/.cache/compiled', import.meta.url))
const [n, stallS, seed] = [Number(values.n), Number(values['stall-s']), Number(values.seed)]
const atATime = Number(values['at-a-time'])
const asked = values.rows?.split(',')
const unknown = asked?.find((name) => !faults.some((fault) => fault.name === name))
if (unknown !== undefined)
  throw new Error(`no row "${unknown}"; there are ${faults.map(({ name }) => name).join(', ')}`)

const heads = ['tests', 'lines', 'lost', 'left over', 'unsealed', 'passed so', 'broken off', 's a test']
const widths = heads.map((head) => Math.max(head.length, 7) + 2)
const row = (name: string, cells: readonly (string | number)[]) =>
  name.padEnd(30) + cells.map((cell, i) => String(cell).padStart(widths[i]!)).join('')

/** All tests of one fault, some at a time. */
async function suffer(
  fault: Fault,
  random: () => number,
): Promise<{ outcomes: Outcome[]; brokenOff: string[]; eachS: number }> {
  const wanted = Math.max(1, Math.round(n * fault.share))
  const outcomes: Outcome[] = []
  const brokenOff: string[] = []
  const startMs = performance.now()
  let begun = 0
  async function work(): Promise<void> {
    while (begun < wanted) {
      begun++
      try {
        outcomes.push(await sufferFault(fault.setting, (victim) => fault.act(victim, random, stallS)))
      } catch (error) {
        brokenOff.push((error as Error).message)
      }
    }
  }
  await Promise.all(Array.from({ length: atATime }, work))
  return { outcomes, brokenOff, eachS: ((performance.now() - startMs) / 1000 / wanted) * Math.min(atATime, wanted) }
}

console.log(row('fault', heads))
let notBorne = 0
for (const fault of faults.filter(({ name }) => asked?.includes(name) ?? true)) {
  const { outcomes, brokenOff, eachS } = await suffer(fault, createRandom(seed).uniform)
  const sum = (of: (outcome: Outcome) => number) => outcomes.reduce((total, outcome) => total + of(outcome), 0)
  const counts = {
    lost: sum(({ lost }) => lost),
    leftOver: sum(({ leftOver }) => leftOver),
    unsealed: sum(({ sealed }) => (sealed ? 0 : 1)),
    passed: sum(({ passedUnsealed }) => (passedUnsealed ? 1 : 0)),
  }
  const { lost, leftOver, unsealed, passed } = counts
  const missed = [fault.takes.includes('lines') ? 0 : lost, fault.takes.includes('seal') ? 0 : unsealed]
  const misses = missed.reduce((total, count) => total + count, leftOver + passed + brokenOff.length)
  if (misses > 0) notBorne++
  const cells = [
    outcomes.length,
    sum(({ lines }) => lines),
    lost,
    leftOver,
    unsealed,
    passed,
    brokenOff.length,
    eachS.toFixed(1),
  ]
  console.log(row(fault.name, cells) + (misses > 0 ? '  MISSED' : ''))
  for (const why of new Set(brokenOff)) console.log(`    ${why}`)
}
console.log(notBorne === 0 ? 'Nothing was missed.' : `Faults that were not borne: ${notBorne}.`)
process.exitCode = notBorne === 0 ? 0 : 1
