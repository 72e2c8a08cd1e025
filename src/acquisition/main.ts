// The acquisition process: orders over IPC in, one recording out. It ends by itself when the screen process is gone.
import { isAstray, Problem } from '../errors.ts'
import { type Acquisition, createAcquisition } from './acquisition.ts'
import type { Order } from './messages.ts'
import { createScreen } from './screen.ts'

const verdictWithinMs = 5000

const screen = createScreen()
let acquisition: Acquisition | null = null
let finishing = false
let failed = false

/** Says what went wrong, saves what can be saved, and exits with the problem's status. */
function fail(error: unknown): void {
  if (failed) return
  failed = true
  let problem = error instanceof Problem ? error : new Problem('internal', `Recording stopped: ${String(error)}.`)
  try {
    acquisition?.conclude()
  } catch (graver) {
    // Where the recording itself cannot be written, it stays as it is: whole lines, no seal. Where it is kept is told first.
    if (graver instanceof Problem && isAstray(graver)) problem = graver
  }
  screen.fault(problem, () => process.exit(problem.exitCode))
}

function conclude(result?: { result: unknown }): void {
  if (failed) return
  acquisition?.conclude(result)
  process.exit(0)
}

function obey(order: Order): void {
  if (order.type === 'open') acquisition ??= createAcquisition(order, order.signing, screen.grown, fail)
  else if (order.type === 'mark') acquisition?.mark(order)
  else if (order.type === 'typed') acquisition?.typed(order)
  else if (order.type === 'finish') {
    finishing = true
    acquisition?.end(order.reason)
    setTimeout(conclude, verdictWithinMs)
  } else if (finishing) conclude({ result: order.result })
}

process.title = 'makebreak acquisition'
// A closed terminal or Ctrl-C is the screen process's affair: it says what follows, or is gone.
for (const signal of ['SIGHUP', 'SIGINT', 'SIGPIPE'] as const) process.on(signal, () => {})
process.on('SIGTERM', () => conclude())
process.on('disconnect', () => conclude())
process.on('uncaughtException', fail)
process.on('unhandledRejection', fail)
process.on('message', obey)
