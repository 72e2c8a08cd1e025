// A whole test whose lines the machine hands over late, in clumps, gives what it gives on a quiet machine, and claims nothing more.
import { expect, test } from 'vitest'
import { analyse } from '../../src/core/analyse.ts'
import { judge } from '../../src/core/judge.ts'
import { foldEvents, sealRun } from '../harness/fold-events.ts'
import { createRandom, type ForeignEvent, makeForeignRecording, quietBench } from '../harness/foreign-recording.ts'

/** The events of a machine that stalls for a while now and then: what arrives meanwhile is stamped afterwards. */
function onBusyMachine(events: readonly ForeignEvent[], seed: number): ForeignEvent[] {
  const random = createRandom(seed)
  const last = events.at(-1)!.t!
  const stalls: [fromUs: number, toUs: number][] = []
  for (let t = 0; t < last; t += 3e6 * random.uniform()) {
    const toUs = t + 0.6e6 * random.uniform()
    stalls.push([t, Math.round(toUs)])
    t = toUs
  }
  // A query goes out when it goes out; only what comes in waits.
  const late = events.map((e) => {
    const stall = e.type === 'rx' && stalls.find(([from, to]) => e.t! > from && e.t! < Math.min(to, last))
    return stall ? { ...e, t: Math.min(stall[1], last) } : e
  })
  return late.toSorted((a, b) => (a.t ?? 0) - (b.t ?? 0))
}

const analysed = (events: readonly ForeignEvent[]) => {
  const run = sealRun(foldEvents(events))
  return analyse(run, run.setup!)
}

test.each([1, 2, 3, 4])('busy machine %i', (seed) => {
  const { events, makePa, breakPa } = makeForeignRecording({ ...quietBench, manometerS: 0.05, seed })
  const quiet = judge(analysed(events))
  const analysis = analysed(onBusyMachine(events, seed))
  for (const { loUs, hiUs } of analysis.edges) expect(loUs).toBeLessThanOrEqual(hiUs)
  expect(analysis.track.of.halfUs.filter((halfUs) => halfUs > 0).length).toBeGreaterThan(analysis.track.length / 20)
  const busy = judge(analysis)
  expect(quiet.verdict).toBe('pass')
  expect(['pass', 'undecided']).toContain(busy.verdict)
  for (const [quantity, truePa] of [
    ['make', makePa],
    ['break', breakPa],
  ] as const) {
    // Within what the trips themselves leave open: the gauge is 0.6 Pa of it and errs alike in both.
    const { valuePa, UPa } = busy[quantity]
    expect(Math.abs(valuePa! - truePa)).toBeLessThan(UPa! / 3)
    expect(Math.abs(valuePa! - quiet[quantity].valuePa!)).toBeLessThan(UPa! / 3)
  }
})
