// One instrument's port into recorded events: bytes both ways, and each time its cable is open, lost or back.

import { Problem } from '../errors.ts'
import type { OpenPort, OpenPortFunction } from './connection.ts'
import { createFramer, type Framer } from './framer.ts'
import type { PortPlan } from './messages.ts'
import { createPoll, type Poll } from './poll.ts'
import { createSilence } from './silence.ts'

/** Where events go; the times given are arrivals in microseconds. */
export type Log = {
  nowUs(): number
  bytes(type: 'rx' | 'tx', arrivalUs: number, bytes: Buffer): void
  link(state: 'open' | 'lost' | 'back', why?: string): void
}

export type Link = {
  /** Gives an open connection up for a new one. */
  reopen(why: string): void
  /** Hands out what is left and lets go of the port; nothing is logged afterwards. */
  close(): void
}

const firstBackoffMs = 250
const lastBackoffMs = 5000
const leftoverMs = 1000
const silenceEveryMs = 500

/** Where the adapter of a lost port is by now; null where it is not there. */
export type FindPath = () => Promise<string | null>

/**
 * Keeps `plan`'s port open. `onRefused` hears why it could not be opened the first time; later losses are tried again for
 * ever, where `findPath` is given at the path that it says.
 */
export function createLink(
  plan: PortPlan,
  open: OpenPortFunction,
  log: Log,
  onRefused: (problem: Problem) => void,
  findPath: FindPath | null = null,
): Link {
  const silence = createSilence(plan.wire.poll)
  let everOpen = false
  let backoffMs = firstBackoffMs
  let connection: { end(): void; reopen(why: string): void } | null = null
  let retry: NodeJS.Timeout | undefined
  let closed = false
  let path = plan.path
  let openPath = path

  /** One connection: a port object, a framer and a poll of its own, so that nothing old is carried over. */
  function connect(): void {
    let arrivalUs = 0
    let isOpen = false
    let poll: Poll | null = null
    let leftover: NodeJS.Timeout | undefined
    let watch: NodeJS.Timeout | undefined
    const framer: Framer = createFramer(plan.wire, (piece, wholeLine) => {
      log.bytes('rx', arrivalUs, piece)
      poll?.heard(piece, wholeLine)
    })

    function send(bytes: Buffer): void {
      log.bytes('tx', log.nowUs(), bytes)
      port.write(bytes)
    }
    function end(): void {
      for (const timer of [leftover, watch]) clearTimeout(timer)
      poll?.stop()
      framer.release()
      port.close()
      connection = null
    }
    function lost(why: string, problem?: Problem): void {
      end()
      if (!everOpen) {
        onRefused(problem ?? new Problem('port-failed', `The port ${plan.path} could not be opened (${why}).`))
        return
      }
      if (isOpen) log.link('lost', why)
      again()
    }

    connection = { end, reopen: (why) => isOpen && lost(why) }
    const elsewhere = path !== openPath
    const plugged: PortPlan = { ...plan, path }
    const port: OpenPort = open(plugged, {
      onOpen() {
        isOpen = true
        openPath = path
        log.link(everOpen ? 'back' : 'open', elsewhere ? `at ${path} now` : undefined)
        if (everOpen) silence.reconnected()
        everOpen = true
        watch = setInterval(() => {
          if (silence.tooLong(performance.now())) lost('silent')
        }, silenceEveryMs)
        if (plan.wire.start !== null) send(Buffer.from(plan.wire.start, 'latin1'))
        poll = createPoll(plan.wire, send)
      },
      onData(bytes) {
        arrivalUs = log.nowUs()
        backoffMs = firstBackoffMs
        silence.heard(performance.now())
        framer.push(bytes)
        clearTimeout(leftover)
        leftover = setTimeout(() => framer.release(), leftoverMs)
      },
      onLost: lost,
    })
  }

  function again(): void {
    retry = setTimeout(findPath === null ? connect : find, backoffMs)
    backoffMs = Math.min(backoffMs * 2, lastBackoffMs)
  }
  async function find(): Promise<void> {
    const found = await findPath?.()
    if (closed) return
    if (!found) return again()
    path = found
    connect()
  }

  connect()
  return {
    reopen: (why) => connection?.reopen(why),
    close() {
      closed = true
      clearTimeout(retry)
      connection?.end()
    },
  }
}
