// A driver's poll into commands on the wire: one in flight, the next when it was answered or given up.
import type { Wire } from '../driver.ts'

export type Poll = {
  /** Bytes have arrived; `wholeLine` where they end one. */
  heard(wholeLine: boolean): void
  stop(): void
}

/** Sends the command every `periodMs`, the first time one period from now. */
export function createPoll(wire: Wire & { poll: NonNullable<Wire['poll']> }, send: (bytes: Buffer) => void): Poll {
  const { periodMs, replyMs, quietMs } = wire.poll
  const command = Buffer.from(wire.poll.bytes, 'latin1')
  let inFlight = false
  let sentMs = performance.now()
  let givenUp: NodeJS.Timeout | undefined
  let quiet: NodeJS.Timeout | undefined
  let next = setTimeout(ask, periodMs)

  function ask(): void {
    inFlight = true
    sentMs = performance.now()
    givenUp = setTimeout(done, replyMs)
    send(command)
  }

  function done(): void {
    inFlight = false
    clearTimeout(givenUp)
    clearTimeout(quiet)
    next = setTimeout(ask, Math.max(0, sentMs + periodMs - performance.now()))
  }

  return {
    heard(wholeLine) {
      if (!inFlight) return
      if (wire.framing.kind === 'lines') {
        if (wholeLine) done()
        return
      }
      clearTimeout(quiet)
      quiet = setTimeout(done, quietMs)
    },
    stop() {
      inFlight = false
      for (const timer of [givenUp, quiet, next]) clearTimeout(timer)
    },
  }
}
