// Code that is not ours in a worker thread, watched: whatever it does, this thread goes on and says in one sentence why it ended.
//
// Against mistakes, not malice: a thread shares the process, so code that means to end it can.
import { Worker } from 'node:worker_threads'
import { errorText } from './core/text/error-text.ts'
import { places, type WatchedData } from './heartbeat.ts'
import { beginWithYoungSpace, freeYoungSpace, holdYoungSpace } from './hold-young-space.ts'
import { waitedForCoreMs } from './waited-for-core.ts'

export type WatchedWorker = {
  post(message: unknown): void
  /** Ends it; `ended` is null then. */
  stop(): void
  /** When it is over: null where it was stopped, else why, as one sentence about `who`. */
  ended: Promise<string | null>
}

export type Watch = {
  /** Whose code it is, as a sentence begins: `The driver`. */
  who: string
  /** What the worker finds as `data` of its heartbeat. */
  data: unknown
  onMessage: (message: unknown) => void
  /** By how much the memory of the whole process may grow; left out: 300 MB. */
  growthLimitMB?: number
  /** Room for new objects in this thread and in the worker, each, held for hours; left out: what the engine takes for speed. */
  youngMB?: number
}

// Often, because memory may grow by some gigabytes a second. Shop rules, as the limits below.
const lookEveryMs = 50
const silentLimitS = 5
const usualGrowthMB = 300
const looksPerHold = 20
const mostPerLookMs = 1000

/**
 * Starts `file`, which calls startHeartbeat() before it does anything else. It is ended when it does not beat for 5 s, or
 * when the memory of the whole process has grown beyond its limit: the limits of a thread do not count Buffers. Time in which
 * it waited for a core (`waitedMs`; for tests another) is no silence.
 */
export function watchWorker(
  file: URL,
  { who, data, onMessage, growthLimitMB = usualGrowthMB, youngMB }: Watch,
  waitedMs = waitedForCoreMs,
): WatchedWorker {
  const shared = new Int32Array(new SharedArrayBuffer(3 * Int32Array.BYTES_PER_ELEMENT))
  const workerData: WatchedData = { shared, data }
  if (youngMB !== undefined) beginWithYoungSpace(youngMB)
  // What it prints is not ours to show, and could steer the terminal.
  const worker = new Worker(file, {
    ...{ workerData, execArgv: [], stdin: false, stdout: true, stderr: true },
    // The engine counts two halves for what survives and one for what is new.
    ...(youngMB !== undefined && { resourceLimits: { maxYoungGenerationSizeMb: 1.5 * youngMB } }),
  })
  worker.stdout.resume()
  worker.stderr.resume()

  let stop = () => {}
  const ended = new Promise<string | null>((resolve) => {
    const limitBytes = process.memoryUsage.rss() + growthLimitMB * 1e6
    let seen = 0
    let silentMs = 0
    let looks = 0
    let [lookedMs, waitedTillMs] = [performance.now(), 0]
    /** Time since the last look in which it could have answered. Asleep, or held up by a busy machine, this thread does not look either. */
    function couldAnswerMs(): number {
      const thread = Atomics.load(shared, places.thread)
      const [nowMs, waitedNowMs] = [performance.now(), waitedMs(thread)]
      const passedMs = Math.min(nowMs - lookedMs, thread === 0 ? lookEveryMs : mostPerLookMs)
      const couldMs = passedMs - (waitedNowMs - waitedTillMs)
      lookedMs = nowMs
      waitedTillMs = waitedNowMs
      return couldMs
    }
    function end(why: string | null): void {
      clearInterval(looking)
      if (youngMB !== undefined) freeYoungSpace()
      resolve(why)
      void worker.terminate()
    }
    const looking = setInterval(() => {
      const beat = Atomics.load(shared, places.beats)
      // Before the first beat nothing runs but our own code.
      const ours = beat === 0 || Atomics.load(shared, places.ours) > 0
      const couldMs = couldAnswerMs()
      // The system counts a wait once it is over, so that it may belong to the looks before.
      silentMs = beat === seen && !ours ? Math.max(0, silentMs + couldMs) : 0
      seen = beat
      if (youngMB !== undefined && looks++ % looksPerHold === 0) holdYoungSpace(youngMB)
      if (silentMs >= silentLimitS * 1000) end(`${who} gave no answer for ${silentLimitS} s and was ended.`)
      else if (process.memoryUsage.rss() > limitBytes)
        end(`${who} took more than ${growthLimitMB} MB of memory and was ended.`)
    }, lookEveryMs)
    worker.on('message', onMessage)
    worker.on('error', (error: unknown) => {
      if ((error as NodeJS.ErrnoException | null)?.code === 'ERR_WORKER_OUT_OF_MEMORY')
        end(`${who} took more memory than a thread may have and was ended.`)
      else end(`${who} failed outside of a call: ${errorText(error)}.`)
    })
    // Its heart keeps it there until it is stopped, so that nothing else ends it without an error.
    worker.on('exit', () => end(`${who} ended the program with process.exit.`))
    stop = () => end(null)
  })
  return { post: (message) => worker.postMessage(message), stop: () => stop(), ended }
}
