// `npm run bench:fuzz [CASES [FIRST]]`: nonsense through the whole core, 100 000 seeds unless told otherwise; status 1 where one shows a fault.
import { faultsOf } from '../harness/fuzz.ts'

const cases = Number(process.argv[2] ?? 100_000)
const first = Number(process.argv[3] ?? 1)
const shown = 20
let bad = 0
for (let seed = first; seed < first + cases; seed++) {
  let faults: string[]
  try {
    faults = faultsOf(seed)
  } catch (error) {
    faults = [error instanceof Error ? (error.stack ?? error.message) : String(error)]
  }
  if (faults.length === 0) continue
  bad++
  if (bad <= shown) console.log(`seed ${seed}: ${faults.join('; ')}`)
}
console.log(`${bad} of ${cases} cases show a fault`)
process.exitCode = bad === 0 ? 0 : 1
