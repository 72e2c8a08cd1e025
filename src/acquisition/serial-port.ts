// One serial port's plan into one connection: its bytes, and the moment it is lost.

import { access } from 'node:fs'
import { SerialPort } from 'serialport'
import { openProblem } from '../errors.ts'
import { hardenedBinding } from '../hardened-binding.ts'
import { createPowerLines, type PowerLines } from '../ports/power-lines.ts'
import type { OpenPort, PortEvents } from './connection.ts'
import type { PortPlan } from './messages.ts'

const presenceEveryMs = 500
// Commands are a few bytes, one in flight: more than this waiting means that none leaves any more.
const maxUnsentBytes = 4096

/** Opens the port; a port object serves one connection only, since a reopened one would send what was queued before. */
export function openSerialPort(plan: PortPlan, on: PortEvents): OpenPort {
  let over = false
  let presence: NodeJS.Timeout | undefined
  let lines: PowerLines | null = null
  const { path } = plan

  // The options' type does not name the binding, but it is taken from them.
  const options = { path, ...plan.settings, autoOpen: false, binding: hardenedBinding }
  const port = new SerialPort(options)

  function release(): void {
    over = true
    clearInterval(presence)
    lines?.stop()
    // Not waited for: closing can hang with some adapters.
    if (port.isOpen) port.close(() => {})
  }
  function lose(why: string, problem?: ReturnType<typeof openProblem>): void {
    if (over) return
    release()
    on.onLost(why, problem)
  }

  port.on('data', (bytes: Buffer) => {
    lines?.heard()
    if (!over) on.onData(bytes)
  })
  port.on('close', (error: Error | null) => lose(error?.message ?? 'closed'))
  port.on('error', (error: Error) => lose(error.message))
  port.open((error) => {
    if (error) {
      const problem = openProblem(path, error.message)
      return lose(problem.message, problem)
    }
    if (over) return release()
    // Windows names ports that are no files.
    if (process.platform !== 'win32')
      presence = setInterval(() => access(path, (absent) => absent && lose(`${path} is gone`)), presenceEveryMs)
    // A pseudo-terminal has no such lines, and says so.
    lines = createPowerLines((way) => port.set(way, () => {}))
    on.onOpen()
  })

  return {
    write(bytes) {
      if (over) return
      if (port.writableLength > maxUnsentBytes) return process.nextTick(lose, 'takes no bytes')
      port.write(bytes, (error) => error && lose(error.message))
    },
    close: release,
  }
}
