// `npm run bench:speed`: two bars, a million damaged lines and many files on two cores, status 1 where one is missed; then the CPU
// time to read, fold and analyse a recording of about 100 000 events, each stage and as a ratio to reading.
import { bindDrivers } from '../../src/commands/bind-drivers.ts'
import { analyse } from '../../src/core/analyse.ts'
import { initialRun, step } from '../../src/core/intake/run.ts'
import { judge } from '../../src/core/judge.ts'
import { loadDrivers } from '../../src/load-drivers.ts'
import { encodeLine } from '../../src/recording/format.ts'
import { createReader } from '../../src/recording/read.ts'
import { goodBench } from '../../src/simulation/good-bench.ts'
import { runVirtually } from '../../src/simulation/virtual-run.ts'
import { damageIsCheckedInTime } from './speed-damage.ts'
import { filesUseAllCores } from './speed-files.ts'

const met = [await damageIsCheckedInTime(), filesUseAllCores()]
process.exitCode = met.every(Boolean) ? 0 : 1

const good = goodBench()
const scenario = {
  ...good,
  plan: { ...good.plan, cycles: 10 },
  truth: {
    ...good.truth,
    manometer: { ...good.truth.manometer, linePeriodS: 0.008, jitterS: 0, deadS: 0.002 },
    meter: { ...good.truth.meter, query: { bytes: 'READ?\n', periodMs: 25, replyMs: 1000 }, delayS: 0.005 },
  },
}
const bytes = Buffer.concat([...runVirtually(scenario, 1).events].map((event) => encodeLine(event)))
const findDecode = bindDrivers(await loadDrivers())

const cpuMs = (work: () => void): number => {
  const before = process.cpuUsage()
  work()
  const { user, system } = process.cpuUsage(before)
  return (user + system) / 1000
}

for (let round = 1; round <= 5; round++) {
  const reader = createReader()
  let events: ReturnType<typeof reader.push> = []
  const read = cpuMs(() => {
    events = [...reader.push(bytes), ...reader.finish()]
  })
  let run = initialRun(findDecode)
  const fold = cpuMs(() => {
    for (const event of events) run = step(run, event)
  })
  const analysed = cpuMs(() => {
    if (run.setup) judge(analyse(run, run.setup))
  })
  const total = read + fold + analysed
  const ms = (x: number) => `${x.toFixed(0)} ms`
  console.log(
    `round ${round}: ${events.length} events, read ${ms(read)}, fold ${ms(fold)}, analyse ${ms(analysed)}, all ${ms(total)} of CPU; ` +
      `analyse / read ${(analysed / read).toFixed(2)}`,
  )
}
