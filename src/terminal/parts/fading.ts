// What a key has said into its end: it leaves the foot of the screen to the keys once it could be read.

/** Time to see that something is said, and to read each character of it, ms: common practice, no source. */
const [seeMs, readMs] = [4000, 60]

export type Fading = {
  /** Told after each change what is said now; null: nothing is. */
  now(said: string | null): void
  stop(): void
}

/** Calls `fade` once what is said was there long enough; something new starts the time again. */
export function createFading(fade: () => void): Fading {
  let shown: string | null = null
  let timer: NodeJS.Timeout | undefined
  return {
    now(said) {
      if (said === shown) return
      shown = said
      clearTimeout(timer)
      if (said === null) return
      timer = setTimeout(
        () => {
          shown = null
          fade()
        },
        seeMs + readMs * said.length,
      )
    },
    stop: () => clearTimeout(timer),
  }
}
