// How long an instrument may be quiet before its port is opened anew, from how it has spoken so far.
import type { Wire } from '../driver.ts'

export type Silence = {
  /** Bytes have arrived at `atMs`. */
  heard(atMs: number): void
  /** A new connection begins: what passes until its first bytes is no interval. */
  reconnected(): void
  /** Whether a port quiet since its last bytes is to be opened anew at `atMs`. */
  tooLong(atMs: number): boolean
}

// Some adapters stop handing over bytes while the device is present and open, and say nothing (serialport/node-serialport
// issues 996, 1833, 2068). Both numbers are choices: slow instruments must not be cut off.
const leastMs = 5000
const intervals = 10
// A switched-off instrument is tried less and less often: at most this many doublings.
const mostDoublings = 4

/**
 * The expected interval is one round of the queries, or the longest pause seen between bytes. An instrument that was never heard has
 * none: it is waited for.
 */
export function createSilence(poll: Wire['poll']): Silence {
  const asked = poll.length > 0
  // Of several queries perhaps one alone is answered.
  let expectedMs = asked ? poll.reduce((sum, { periodMs, replyMs }) => sum + periodMs + replyMs, 0) : null
  let lastMs: number | null = null
  let spoken = false
  let sinceMs: number | null = null
  let fruitless = 0
  return {
    heard(atMs) {
      if (!asked && lastMs !== null) expectedMs = Math.max(expectedMs ?? 0, atMs - lastMs)
      lastMs = atMs
      sinceMs = atMs
      spoken = true
      fruitless = 0
    },
    reconnected() {
      lastMs = null
      sinceMs = null
      fruitless = Math.min(fruitless + 1, mostDoublings)
    },
    tooLong(atMs) {
      if (!spoken || expectedMs === null) return false
      sinceMs ??= atMs
      return atMs - sinceMs > Math.max(leastMs, intervals * expectedMs) * 2 ** fruitless
    },
  }
}
