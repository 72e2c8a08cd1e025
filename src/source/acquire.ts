// A plan into a recording: forks the acquisition process, passes on what the operator says, and hears how it goes there.
import { fork } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import type { AcquisitionPlan, MarkOrder, Order, PortPlan, Report, Signing } from '../acquisition/messages.ts'
import type { EndReason } from '../core/model/event.ts'
import type { TypedOrder } from '../core/model/typed.ts'
import { Problem } from '../errors.ts'
import type { Growth } from './follow-file.ts'

export type { AcquisitionPlan, MarkOrder, PortPlan, Signing, TypedOrder }

export type Acquiring = {
  mark(order: MarkOrder): void
  typed(order: TypedOrder): void
  /** Asks for the end of the recording; the `end` event then comes through the file. */
  finish(reason: EndReason): void
  /** Hands over the result after `end` was read; five seconds later the recording is sealed without one. */
  sendVerdict(result: unknown): void
  /** Leaves it alone: it ends the recording, where that has not ended, as given up, seals it and exits. */
  letGo(): void
  /** When the acquisition process is gone: null where it ended as it should, else why. */
  exited: Promise<Problem | null>
  pid: number | undefined
}

// Source runs as .ts, the build as .mjs: the other process is of the same kind as this one.
const extension = import.meta.url.endsWith('.ts') ? '.ts' : '.mjs'
const acquisitionPath = fileURLToPath(new URL(`../acquisition/main${extension}`, import.meta.url))

/**
 * Starts recording by `plan`; `growth` is told when the file has more and when nothing more comes. The process is detached:
 * it outlives a killed terminal for as long as it takes to end and seal the file. What goes wrong there shows in `exited`.
 * The recording is signed by `signing`, where that is given and the bench is real.
 */
export function acquire(plan: AcquisitionPlan, growth: Growth, signing: Signing | null = null): Acquiring {
  const child = fork(acquisitionPath, [], {
    detached: true,
    windowsHide: true,
    execArgv: [],
    stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
  })
  let fault: Problem | null = null

  const exited = new Promise<Problem | null>((resolve) => {
    function leave(how: string, clean: boolean): void {
      growth.ended()
      resolve(fault ?? (clean ? null : new Problem('acquisition-died', `The recording process ended early (${how}).`)))
    }
    child.on('error', (error) => leave(error.message, false))
    child.on('exit', (code, signal) => {
      const tell = () => leave(signal ?? `status ${code}`, code === 0)
      // What it said last may still be on its way: the channel closes behind it.
      if (child.connected) child.once('disconnect', tell)
      else tell()
    })
  })
  child.on('message', (report: Report) => {
    if (report.type === 'fault') fault = new Problem(report.code, report.text)
    else growth.grew()
  })

  function send(order: Order): void {
    // Sending to a process that has just gone fails; `exited` tells that already.
    if (child.connected) child.send(order, () => {})
  }

  send({ type: 'open', signing, ...plan })
  return {
    mark: (order) => send({ type: 'mark', ...order }),
    typed: (order) => send({ type: 'typed', ...order }),
    finish: (reason) => send({ type: 'finish', reason }),
    sendVerdict: (result) => send({ type: 'verdict', result }),
    letGo() {
      if (child.connected) child.disconnect()
    },
    exited,
    pid: child.pid,
  }
}
