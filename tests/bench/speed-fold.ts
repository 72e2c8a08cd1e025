// A recording of about 200 000 events into the CPU time of each stage, as a share of a bare pass: lines split and parsed as JSON.
import { bindDrivers } from '../../src/commands/bind-drivers.ts'
import { analyse } from '../../src/core/analyse.ts'
import { initialRun, step } from '../../src/core/intake/run.ts'
import { judge } from '../../src/core/judge.ts'
import { loadDrivers } from '../../src/load-drivers.ts'
import { encodeLine } from '../../src/recording/format.ts'
import { createReader } from '../../src/recording/read.ts'
import { goodBench } from '../../src/simulation/good-bench.ts'
import { runVirtually } from '../../src/simulation/virtual-run.ts'

// Where the rest goes: of the reading a half is the bare pass itself, the others its CRC, its digest and a view of each line; of the
// folding a third is the text of the display, a third the copies of the state at each event, a third the objects that a reading
// stays for good. For 0.5 a whole piece of events would be folded into one copy of the state, and readings kept in columns of numbers.
const bars = { fold: 0.25, whole: 0.15 }
const rounds = 5
const pieceBytes = 65_536
/** CRC and space before the JSON of a line. */
const prefixLength = 9

const good = goodBench()
const scenario = {
  ...good,
  plan: { ...good.plan, cycles: 20 },
  truth: {
    ...good.truth,
    manometer: { ...good.truth.manometer, linePeriodS: 0.008, jitterS: 0, deadS: 0.002 },
    meter: { ...good.truth.meter, query: { bytes: 'READ?\n', periodMs: 25, replyMs: 1000 }, delayS: 0.005 },
  },
}

function cpuMs(work: () => void): number {
  const before = process.cpuUsage()
  work()
  const { user, system } = process.cpuUsage(before)
  return (user + system) / 1000
}

/** Prints the rows; whether both shares are as large as they should be. */
export async function foldKeepsPace(): Promise<boolean> {
  const bytes = Buffer.concat([...runVirtually(scenario, 1).events].map((event) => encodeLine(event)))
  const findDecode = bindDrivers(await loadDrivers())
  const least = { bare: Infinity, read: Infinity, fold: Infinity, analyse: Infinity }
  let count = 0
  for (let round = 0; round < rounds; round++) {
    const took = { bare: 0, read: 0, fold: 0, analyse: 0 }
    took.bare = cpuMs(() => {
      for (const line of bytes.toString('latin1').split('\n')) if (line !== '') JSON.parse(line.slice(prefixLength))
    })
    const reader = createReader()
    let run = initialRun(findDecode)
    count = 0
    // In pieces, as a replay reads them: the events of one are let go before the next.
    for (let from = 0; from < bytes.length; from += pieceBytes) {
      let events: ReturnType<typeof reader.push> = []
      took.read += cpuMs(() => {
        events = reader.push(bytes.subarray(from, from + pieceBytes))
      })
      took.fold += cpuMs(() => {
        for (const event of events) run = step(run, event)
      })
      count += events.length
    }
    took.analyse = cpuMs(() => {
      if (run.setup) judge(analyse(run, run.setup))
    })
    for (const stage of Object.keys(least) as (keyof typeof least)[]) least[stage] = Math.min(least[stage], took[stage])
  }
  const { bare, read, fold } = least
  const stages = Object.entries(least).map(([stage, ms]) => `${stage} ${ms.toFixed(0)}`)
  console.log(`       ${count} events, least of ${rounds} rounds: ${stages.join(', ')} ms of CPU`)
  const shares = { fold: bare / (read + fold), whole: bare / (read + fold + least.analyse) }
  const told = { fold: 'reading and folding', whole: 'the whole replay' }
  return (['fold', 'whole'] as const)
    .map((name) => {
      const met = shares[name] >= bars[name]
      console.log(
        `${met ? 'met   ' : 'MISSED'} ${told[name]}: ${shares[name].toFixed(2)} × a bare pass, bar ${bars[name]}`,
      )
      return met
    })
    .every(Boolean)
}
