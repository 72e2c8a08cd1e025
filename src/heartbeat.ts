// What a watched worker was given, and the beat by which it shows that it still answers.
import { readlinkSync } from 'node:fs'
import { workerData } from 'node:worker_threads'

/** What the one who started a worker hands to it: shared numbers, and what the work is about. */
export type WatchedData = { shared: Int32Array; data: unknown }

/** Places in the shared numbers: one grows with each beat, one is above 0 while our own work goes on, one is the thread's. */
export const places = { beats: 0, ours: 1, thread: 2 } as const

export type Heartbeat = {
  data: unknown
  /** Shows in the midst of long work, where no timer runs, that the thread still answers: call it after each piece. */
  beat: () => void
  ours: typeof ours
}

/** The counts of this thread where it is watched. */
let counts: Int32Array | null = null

/** What `work` gives, which is ours and runs nobody else's code: however long it takes, that is not silence. */
export function ours<T>(work: () => T): T {
  if (counts === null) return work()
  Atomics.add(counts, places.ours, 1)
  try {
    return work()
  } finally {
    Atomics.sub(counts, places.ours, 1)
  }
}

/** From now on nothing but our own code runs in this thread: a machine that gives it no time for a while is not silence. */
export function nothingButOurs(): void {
  if (counts !== null) Atomics.add(counts, places.ours, 1)
}

const everyMs = 250

/** Begins to beat, and keeps the worker there until it is stopped. */
export function startHeartbeat(): Heartbeat {
  const { shared, data } = workerData as WatchedData
  const beat = () => void Atomics.add(shared, places.beats, 1)
  counts = shared
  Atomics.store(shared, places.thread, threadNumber())
  beat()
  setInterval(beat, everyMs)
  return { data, beat, ours }
}

/** The number by which the system knows this thread; 0 where it does not say (all but Linux). */
function threadNumber(): number {
  try {
    return Number(readlinkSync('/proc/thread-self').split('/').at(-1))
  } catch {
    return 0
  }
}
