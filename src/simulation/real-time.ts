// A bench's own time tied to the monotonic clock: what falls due is handed out when it falls due.
import type { Bench, Emission } from './bench.ts'

export type RealTime = {
  /** The bench's time now, µs. */
  nowUs(): number
  /** Whether the bench alone keeps the process alive; at first it does. */
  keepAlive(alive: boolean): void
  stop(): void
}

// Short enough that an answer is late by less than a serial adapter's own delay (its latency timer is 16 ms or less, from memory).
const longestSleepMs = 5

/**
 * Starts the bench's time now, `speed` times as fast as the clock; hands its emissions to `give` until stopped, and
 * calls `finished` once when the hand has done its last move.
 */
export function runInRealTime(
  bench: Bench,
  speed: number,
  give: (emission: Emission) => void,
  finished: () => void = () => {},
): RealTime {
  const startNs = process.hrtime.bigint()
  const nowUs = () => (Number(process.hrtime.bigint() - startNs) / 1e3) * speed
  let stopped = false
  let alive = true
  let wasDone = false

  function wake() {
    for (const emission of bench.advanceTo(nowUs())) {
      // A listener may stop the bench in the midst of a batch.
      if (stopped) return
      give(emission)
    }
    if (bench.done && !wasDone) {
      wasDone = true
      finished()
    }
    if (stopped) return
    // A write may bring something nearer than what is known now: never sleep longer than an answer takes.
    const waitMs = (bench.nextUs() - nowUs()) / speed / 1e3
    timer = setTimeout(wake, Math.min(Math.max(waitMs, 1), longestSleepMs))
    if (!alive) timer.unref()
  }

  // Not before the caller has finished its set-up.
  let timer = setTimeout(wake, 0)
  return {
    nowUs,
    keepAlive(wanted) {
      alive = wanted
      if (alive) timer.ref()
      else timer.unref()
    },
    stop() {
      stopped = true
      clearTimeout(timer)
    },
  }
}
