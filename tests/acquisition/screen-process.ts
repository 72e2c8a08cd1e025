// A screen process for tests that kill or stop it: follows a recording and prints what it has seen. Arguments: file, port path.
import { createReader } from '../../src/recording/read.ts'
import { follow } from '../../src/source/follow.ts'
import { planOf, portPlan } from './bench.ts'

const [file = '', path = ''] = process.argv.slice(2)
const following = follow(planOf(file, [portPlan('manometer', path)]), createReader())
process.stdout.write(`pid ${following.pid}\n`)
process.stdin.once('data', () => following.finish('finished'))
let seen = 0
for await (const batch of following.batches) {
  seen += batch.filter((event) => event.type === 'rx').length
  process.stdout.write(`seen ${seen}\n`)
  if (batch.some((event) => event.type === 'end')) following.sendVerdict({ verdict: 'undecided' })
}
const problem = await following.exited
process.stdout.write(`over ${problem?.code ?? 'well'}\n`)
process.exit(0)
