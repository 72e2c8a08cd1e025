// A driver's queries into commands on the wire, in turn: one in flight, the next when it was answered or given up.
import type { Wire } from '../driver.ts'

export type Poll = {
  /** Bytes have arrived; `wholeLine` where they end one. A command that comes back does not count. */
  heard(piece: Buffer, wholeLine: boolean): void
  stop(): void
}

/** Sends the queries of `wire` over and over, the first one of its periods from now; null where there is none. */
export function createPoll({ framing, poll }: Wire, send: (bytes: Buffer) => void): Poll | null {
  const [first] = poll
  if (first === undefined) return null
  let query = first
  let turn = 0
  let inFlight = false
  /** What has come since the command, as far as that may be its echo. */
  let back = ''
  let sentMs = performance.now()
  let givenUp: NodeJS.Timeout | undefined
  let quiet: NodeJS.Timeout | undefined
  let next = setTimeout(ask, query.periodMs)

  function ask(): void {
    query = poll[turn++ % poll.length] ?? first!
    inFlight = true
    back = ''
    sentMs = performance.now()
    givenUp = setTimeout(done, query.replyMs)
    send(Buffer.from(query.bytes, 'latin1'))
  }

  function done(): void {
    inFlight = false
    clearTimeout(givenUp)
    clearTimeout(quiet)
    next = setTimeout(ask, Math.max(0, sentMs + query.periodMs - performance.now()))
  }

  return {
    heard(piece, wholeLine) {
      if (!inFlight) return
      if (back.length <= query.bytes.length) back += piece.toString('latin1')
      // A half-duplex lead hands back what is sent. The next command would go out into the reply, which is still to come.
      if (query.bytes.startsWith(back)) return
      if (framing.kind === 'lines') {
        if (wholeLine) done()
        return
      }
      clearTimeout(quiet)
      quiet = setTimeout(done, query.quietMs)
    },
    stop() {
      inFlight = false
      for (const timer of [givenUp, quiet, next]) clearTimeout(timer)
    },
  }
}
