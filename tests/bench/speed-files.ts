// One recording two hundred times into how many times as fast the built program replays it on two cores as on one.
import { spawnSync } from 'node:child_process'
import { availableParallelism } from 'node:os'
import { fileURLToPath } from 'node:url'

const count = 200
const bar = 1.7
const rounds = 2
const program = fileURLToPath(new URL('../../dist/src/main.js', import.meta.url))
const recording = fileURLToPath(new URL('../../recordings/good-1.run', import.meta.url))

/** Seconds from the start of the program to its end; null where the system cannot hold a program to some of its cores. */
function secondsOn(cores: string): number | null {
  const fromMs = performance.now()
  const args = ['-c', cores, process.execPath, program, 'replay', '--json', ...Array<string>(count).fill(recording)]
  const { error, status, stdout } = spawnSync('taskset', args, { encoding: 'utf8', maxBuffer: 1e9 })
  if (error) return null
  const told = stdout.split('\n').filter((line) => line.includes('"verdict":"pass"')).length
  if (status !== 0 || told !== count) throw new Error(`${told} of ${count} files were told, status ${status}`)
  return (performance.now() - fromMs) / 1000
}

/** Prints the row; whether two cores are as much faster as they should be. Where it cannot be measured, that is no miss. */
export function filesUseAllCores(): boolean {
  // By turns, and the best of each: whatever else the machine does meanwhile falls on both.
  let [one, two] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]
  for (let round = 0; round < rounds; round++) {
    const [alone, both] = availableParallelism() < 2 ? [null, null] : [secondsOn('0'), secondsOn('0,1')]
    if (alone === null || both === null) {
      console.log(`       ${count} files on two cores: not measured (one core only, or no taskset)`)
      return true
    }
    one = Math.min(one, alone)
    two = Math.min(two, both)
  }
  const met = one / two >= bar
  console.log(
    `${met ? 'met   ' : 'MISSED'} ${count} files: ${one.toFixed(1)} s on one core, ${two.toFixed(1)} s on two, ` +
      `${(one / two).toFixed(2)} times as fast, bar ${bar}`,
  )
  return met
}
