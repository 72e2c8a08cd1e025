// A recording while it is made: forks the acquisition process, follows its file, and passes on what the operator says.
import { fork } from 'node:child_process'
import { open } from 'node:fs/promises'
import { fileURLToPath } from 'node:url'
import type { AcquisitionPlan, MarkOrder, Order, PortPlan, Report } from '../acquisition/messages.ts'
import type { EndReason, RecordedEvent } from '../core/model/event.ts'
import { Problem } from '../errors.ts'
import { type Reader, readBatches } from './batches.ts'

export type { AcquisitionPlan, MarkOrder, PortPlan }

export type Following = {
  /** What has been recorded, in order, until the acquisition process is gone and the file is read to its end. */
  batches: AsyncIterable<RecordedEvent[]>
  /** Device and inode of the file that `batches` reads; null until it is open. */
  followed(): { dev: bigint; ino: bigint } | null
  mark(order: MarkOrder): void
  /** Asks for the end of the recording; the `end` event then comes through `batches`. */
  finish(reason: EndReason): void
  /** Hands over the result after `end` was read; five seconds later the recording is sealed without one. */
  sendVerdict(result: unknown): void
  /** When the acquisition process is gone: null where it ended as it should, else why. */
  exited: Promise<Problem | null>
  pid: number | undefined
}

// Source runs as .ts, the build as .mjs: the other process is of the same kind as this one.
const extension = import.meta.url.endsWith('.ts') ? '.ts' : '.mjs'
const acquisitionPath = fileURLToPath(new URL(`../acquisition/main${extension}`, import.meta.url))

/**
 * Starts recording by `plan`; `reader` is a fresh one. The process is detached: it outlives a killed terminal for as long
 * as it takes to end and seal the file. What goes wrong there shows in `exited`; `batches` still gives all that was recorded.
 */
export function follow(plan: AcquisitionPlan, reader: Reader): Following {
  const child = fork(acquisitionPath, [], {
    detached: true,
    windowsHide: true,
    execArgv: [],
    stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
  })
  let fault: Problem | null = null
  let grown = false
  let over = false
  let created = false
  let followed: ReturnType<Following['followed']> = null
  let wake = () => {}

  const exited = new Promise<Problem | null>((resolve) => {
    function leave(how: string, clean: boolean): void {
      over = true
      wake()
      resolve(fault ?? (clean ? null : new Problem('acquisition-died', `The recording process ended early (${how}).`)))
    }
    child.on('error', (error) => leave(error.message, false))
    child.on('exit', (code, signal) => leave(signal ?? `status ${code}`, code === 0))
  })
  child.on('message', (report: Report) => {
    if (report.type === 'fault') fault = new Problem(report.code, report.text)
    else {
      created = true
      grown = true
    }
    wake()
  })

  function send(order: Order): void {
    // Sending to a process that has just gone fails; `exited` tells that already.
    if (child.connected) child.send(order, () => {})
  }
  /** Resolves when there may be more to read: true once for each growth and once after the exit, then false. */
  let lastRead = false
  async function more(): Promise<boolean> {
    if (!grown && !over)
      await new Promise<void>((resolve) => {
        wake = resolve
      })
    if (over) {
      if (lastRead) return false
      lastRead = true
    }
    grown = false
    return true
  }
  async function* batches(): AsyncGenerator<RecordedEvent[]> {
    while (!created) if (!(await more())) return
    // A file that is gone already is told by the process that wrote it.
    const file = await open(plan.file, 'r').catch(() => null)
    if (file === null) return
    followed = await file.stat({ bigint: true })
    yield* readBatches(file, reader, more)
  }

  send({ type: 'open', ...plan })
  return {
    batches: batches(),
    followed: () => followed,
    mark: (order) => send({ type: 'mark', ...order }),
    finish: (reason) => send({ type: 'finish', reason }),
    sendVerdict: (result) => send({ type: 'verdict', result }),
    exited,
    pid: child.pid,
  }
}
