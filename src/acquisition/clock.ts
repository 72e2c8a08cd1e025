// The machine's clocks into the recording's time: whole microseconds since the start, never running backwards.

export type Clock = {
  /** Microseconds since the clock was created. */
  nowUs(): number
  /** The time to write for something that arrived at `arrivalUs`: that, or the time of the line before where it is later. */
  stampUs(arrivalUs: number): number
  /** Seconds by which wall clock and monotonic clock have parted since the last call where it is more than 1 s, else 0. */
  jumpS(): number
}

/** A clock that starts now. A monotonic clock may stand still while a laptop sleeps; only the wall clock tells. */
export function createClock(monotonicNs = () => process.hrtime.bigint(), wallMs = () => Date.now()): Clock {
  const startNs = monotonicNs()
  let lastUs = 0
  const nowUs = () => Number((monotonicNs() - startNs) / 1000n)
  const apartMs = () => wallMs() - nowUs() / 1000
  let agreedMs = apartMs()
  return {
    nowUs,
    stampUs(arrivalUs) {
      lastUs = Math.max(lastUs, arrivalUs)
      return lastUs
    },
    jumpS() {
      const jumpMs = apartMs() - agreedMs
      agreedMs += jumpMs
      return Math.abs(jumpMs) > 1000 ? jumpMs / 1000 : 0
    },
  }
}
