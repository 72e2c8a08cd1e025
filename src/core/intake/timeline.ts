// The events of a recording into the run as it stood at any time of it, forwards and backwards.
import type { RecordedEvent } from '../model/event.ts'
import { indexAt } from '../statistics/index-at.ts'
import { type Run, step } from './run.ts'

export type Timeline = {
  /** Time of the last event. */
  endUs: number
  /** The run after all events up to and including `tUs`; what has no time of its own belongs to the event before it. */
  at(tUs: number): Run
}

/** A run kept every so many events: going back costs stepping through this many at most. */
const keepEvery = 500

/** `initial` is the run before the first event. Runs that were passed are kept, so that going back is quick. */
export function createTimeline(events: readonly RecordedEvent[], initial: Run): Timeline {
  let latestUs = 0
  const times = events.map((event) => {
    if (event.type !== 'start' && event.type !== 'corrupt' && event.type !== 'torn') latestUs = event.t
    return { tUs: latestUs }
  })
  const kept: Run[] = [initial]
  let here = { count: 0, run: initial }

  return {
    endUs: latestUs,
    at(tUs) {
      const count = indexAt(times, Math.floor(tUs) + 1)
      const base = Math.min(Math.floor(count / keepEvery), kept.length - 1)
      if (here.count > count || here.count < base * keepEvery) here = { count: base * keepEvery, run: kept[base]! }
      let { run } = here
      for (let i = here.count; i < count; i++) {
        run = step(run, events[i]!)
        if ((i + 1) % keepEvery === 0 && kept.length === (i + 1) / keepEvery) kept.push(run)
      }
      here = { count, run }
      return run
    },
  }
}
