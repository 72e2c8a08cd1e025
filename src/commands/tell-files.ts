// Files into what is told of each: worked out on all cores, printed in the order given.
import { availableParallelism } from 'node:os'
import { fileURLToPath } from 'node:url'
import { isMainThread, Worker } from 'node:worker_threads'
import { Problem } from '../errors.ts'
import type { Chained } from '../recording/check-chain.ts'
import { gravestStatus } from './exit-status.ts'
import { warn } from './print.ts'
import { openProgress } from './progress.ts'

/** What is told of one file: lines for standard output, what goes wrong for standard error. */
export type FileTold = {
  status: number
  lines: string[]
  wrong: string | null
  /** Its place in the chain of its bench, where it has one and that is asked for. */
  chained?: Chained
}

/** What is told of all files together, after them. */
export type Closing = { status: number; lines: string[] }

export type Telling = {
  job: Job
  tellFile: TellFile
  print: (line: string) => void
  /** Left out: nothing is told of all of them. */
  close?: (told: readonly FileTold[]) => Closing
}

export type TellFile = (file: string) => Promise<FileTold>

/** The same work by its name and options, which can be sent to another thread. */
export type Job = { name: 'check' | 'replay'; options: object }

/** What a worker is given; `taken` counts the files that somebody has taken, shared by all threads. */
export type WorkerOrder = { files: readonly string[]; job: Job; taken: Int32Array }

/** What a worker says: a file by its place with what is told of it; null when no file is left. */
export type WorkerSays = { place: number; told: FileTold } | null

// Source runs as .ts, the build as .mjs: a worker is of the same kind as this thread.
const extension = import.meta.url.endsWith('.ts') ? '.ts' : '.mjs'
const workerPath = fileURLToPath(new URL(`tell-files-worker${extension}`, import.meta.url))

/**
 * Prints what `tellFile` tells of each file, `job` being the same for workers; gives the gravest exit status. This thread
 * takes files like the workers do, so that one file, or one core, needs none; nor does a thread that is watched start any,
 * since nobody would watch those. No signal is caught: each ends all threads.
 */
export async function tellFiles(
  files: readonly string[],
  { job, tellFile, print, close }: Telling,
  cores = isMainThread ? availableParallelism() : 1,
): Promise<number> {
  const taken = new Int32Array(new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT))
  const progress = openProgress(files.length)
  const waiting = new Map<number, FileTold>()
  const inOrder: FileTold[] = []
  const workers: Worker[] = []
  const { promise: allTold, resolve, reject } = Promise.withResolvers<void>()

  function take(place: number, told: FileTold): void {
    waiting.set(place, told)
    progress.clear()
    for (let next = waiting.get(inOrder.length); next; next = waiting.get(inOrder.length)) {
      waiting.delete(inOrder.length)
      for (const line of next.lines) print(line)
      if (next.wrong !== null) warn(next.wrong)
      inOrder.push(next)
    }
    progress.show(inOrder.length + waiting.size)
    if (inOrder.length === files.length) resolve()
  }

  progress.show(0)
  try {
    for (let i = 1; i < Math.min(cores, files.length); i++)
      workers.push(startWorker({ files, job, taken }, take, reject))
    takeFiles(files, taken, tellFile, take).catch(reject)
    await allTold
  } finally {
    progress.clear()
    await Promise.all(workers.map((worker) => worker.terminate()))
  }
  const closing = close?.(inOrder) ?? { status: 0, lines: [] }
  for (const line of closing.lines) print(line)
  return gravestStatus([...inOrder.map(({ status }) => status), closing.status])
}

/** Takes the files that nobody has taken yet, one after the other, until none is left. */
export async function takeFiles(
  files: readonly string[],
  taken: Int32Array,
  tellFile: TellFile,
  take: (place: number, told: FileTold) => void,
): Promise<void> {
  for (;;) {
    const place = Atomics.add(taken, 0, 1)
    const file = files[place]
    if (file === undefined) return
    take(place, await tellFile(file))
  }
}

function startWorker(
  order: WorkerOrder,
  take: (place: number, told: FileTold) => void,
  fail: (error: unknown) => void,
): Worker {
  const worker = new Worker(workerPath, { workerData: order, execArgv: [] })
  let done = false
  worker.on('message', (says: WorkerSays) => {
    if (says === null) done = true
    else take(says.place, says.told)
  })
  worker.on('error', fail)
  worker.on('exit', (code) => {
    if (!done) fail(new Problem('internal', `A fault in the program: a thread ended early (status ${code}).`))
  })
  return worker
}
