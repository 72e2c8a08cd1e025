// One recording two hundred times into how many times as fast two cores replay it as one.
import { availableParallelism } from 'node:os'
import { fileURLToPath } from 'node:url'
import { createReplay } from '../../src/commands/replay.ts'
import { tellFiles } from '../../src/commands/tell-files.ts'

const count = 200
const bar = 1.7
const rounds = 2
const path = fileURLToPath(new URL('../../recordings/good-1.run', import.meta.url))

/** Prints the row; whether two cores are as much faster as they should be. Nothing to say where there is one core only. */
export async function filesUseAllCores(): Promise<boolean> {
  if (availableParallelism() < 2) {
    console.log(`       ${count} files on two cores: not measured, there is one core only`)
    return true
  }
  const options = { json: true } as const
  const tellFile = await createReplay(options)
  async function secondsOf(cores: number, files: number): Promise<number> {
    const fromMs = performance.now()
    let printed = 0
    const print = () => {
      printed++
    }
    await tellFiles(Array<string>(files).fill(path), { job: { name: 'replay', options }, tellFile, print }, cores)
    if (printed !== files) throw new Error(`${printed} of ${files} files were told`)
    return (performance.now() - fromMs) / 1000
  }
  // Warm first: what this thread compiles once would count for one core alone.
  await secondsOf(1, count / 10)
  // By turns, and the best of each: whatever else the machine does meanwhile falls on both.
  const best = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]
  for (let round = 0; round < rounds; round++)
    for (const cores of [1, 2]) best[cores - 1] = Math.min(best[cores - 1]!, await secondsOf(cores, count))
  const [one = 0, two = 0] = best
  const met = one / two >= bar
  console.log(
    `${met ? 'met   ' : 'MISSED'} ${count} files: ${one.toFixed(1)} s on one core, ${two.toFixed(1)} s on two, ` +
      `${(one / two).toFixed(2)} times as fast, bar ${bar}`,
  )
  return met
}
