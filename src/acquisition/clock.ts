// The machine's clocks into the recording's time: whole microseconds since the start, never running backwards.

export type Clock = {
  /** Microseconds since the clock was created. */
  nowUs(): number
  /** The time to write for something that arrived at `arrivalUs`: that, or the time of the line before where it is later. */
  stampUs(arrivalUs: number): number
  /**
   * Seconds by which wall clock and monotonic clock have parted since the last call where it is more than 1 s, else 0. Where
   * the wall clock is ahead the machine may have slept: from then on the recording's time is 4 s later.
   */
  jumpS(): number
}

/** A gap between two ticks that is taken for a sleep, and no more: a wall clock that was only set right would leap by hours. */
const shownSleepUs = 4e6

/** A clock that starts now. A monotonic clock may stand still while a laptop sleeps; only the wall clock tells. */
export function createClock(monotonicNs = () => process.hrtime.bigint(), wallMs = () => Date.now()): Clock {
  const startNs = monotonicNs()
  let lastUs = 0
  let sleptUs = 0
  const countedUs = () => Number((monotonicNs() - startNs) / 1000n)
  const nowUs = () => countedUs() + sleptUs
  const apartMs = () => wallMs() - countedUs() / 1000
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
      if (jumpMs > 1000) sleptUs += shownSleepUs
      return Math.abs(jumpMs) > 1000 ? jumpMs / 1000 : 0
    },
  }
}
