// The latest state of a run, kept outside the screen and handed to it at a fixed tick, however often it changes.
import type { Live } from '../core/view/live.ts'

/** 10 Hz: faster than a reading can be read, slow enough to cost little. */
const tickMs = 100

export type Store = {
  /** Takes the newest state; cheap, may be called for every chunk. */
  set: (live: Live) => void
  /** What is shown at present: the newest state as of the last tick; null before the first. */
  shown: () => Live | null
  /** Calls `listener` at each tick that brought something new; the function returned ends that. */
  subscribe: (listener: () => void) => () => void
}

/** An empty store. Its timer runs only while somebody is subscribed. */
export function createStore(): Store {
  let latest: Live | null = null
  let shown: Live | null = null
  let timer: ReturnType<typeof setInterval> | null = null
  const listeners = new Set<() => void>()
  const tick = () => {
    if (shown === latest) return
    shown = latest
    for (const listener of listeners) listener()
  }
  return {
    set: (live) => {
      latest = live
      if (timer === null) shown = live
    },
    shown: () => shown,
    subscribe: (listener) => {
      listeners.add(listener)
      timer ??= setInterval(tick, tickMs)
      return () => {
        listeners.delete(listener)
        if (listeners.size > 0 || timer === null) return
        clearInterval(timer)
        timer = null
      }
    },
  }
}
