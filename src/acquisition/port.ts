// A port's plan into an open port: the small interface that serial ports and simulated wires share.

import { Problem } from '../errors.ts'
import { isSimulatedPath, openSimulatedWire } from '../simulation/wire.ts'
import type { OpenPortFunction } from './connection.ts'
import { openSerialPort } from './serial-port.ts'

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
