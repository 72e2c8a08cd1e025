// One connection to an instrument: the small interface that serial ports and simulated wires share.
import type { Problem } from '../errors.ts'
import type { PortPlan } from './messages.ts'

export type OpenPort = {
  /** Sends bytes; never waits. */
  write(bytes: Buffer): void
  /** Lets go of the port; nothing is reported afterwards. */
  close(): void
}

/** None of these comes from within the call that opens the port or writes to it. */
export type PortEvents = {
  onOpen(): void
  onData(bytes: Buffer): void
  /** The connection is over, or never came about (then `problem` may say why in full). Reported once. */
  onLost(why: string, problem?: Problem): void
}

export type OpenPortFunction = (plan: PortPlan, on: PortEvents) => OpenPort
