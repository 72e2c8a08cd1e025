// A port's plan into an open port: the small interface that serial ports and simulated wires share.
import { Problem } from '../errors.ts'
import { isSimulatedPath, openSimulatedWire } from '../simulation/wire.ts'
import type { PortPlan } from './messages.ts'
import { openSerialPort } from './serial-port.ts'

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

/** Opens what `plan.path` names. Settings that no opener takes are told like a port that does not open. */
export const openPort: OpenPortFunction = (plan, on) => {
  try {
    return isSimulatedPath(plan.path) ? openSimulatedWire(plan.path, plan.name, on) : openSerialPort(plan, on)
  } catch (error) {
    const problem = error instanceof Problem ? error : new Problem('port-failed', `${plan.path}: ${String(error)}.`)
    setImmediate(() => on.onLost(problem.message, problem))
    return { write: () => {}, close: () => {} }
  }
}
