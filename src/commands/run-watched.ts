// A command that may run drivers of the user's own into a watched thread that runs it, and into what it prints and its exit status.
import { isMainThread } from 'node:worker_threads'
import { Problem, type ProblemCode } from '../errors.ts'
import { whoOf } from '../fold/start-fold.ts'
import { userDriverIds } from '../load-drivers.ts'
import { userFolders } from '../user-folders.ts'
import { watchWorker } from '../watched-worker.ts'
import { type Printing, printHere } from './print.ts'

/** What the thread says: what it prints, whose file it loads just now, and how the command ended. */
export type WatchedReport =
  | { type: 'printing'; as: Printing; text: string }
  | { type: 'loading'; file: string | null }
  | { type: 'over'; status: number }
  | { type: 'refused'; code: ProblemCode; text: string; next: string }

// Source runs as .ts, the build as .mjs: the thread is of the same kind as this one.
const extension = import.meta.url.endsWith('.ts') ? '.ts' : '.mjs'
const threadFile = new URL(`run-watched-worker${extension}`, import.meta.url)

/** A recording of some million lines takes so much, and a small machine has it (shop rule). */
const growthLimitMB = 1000

/**
 * Runs the command of `line`: by `run`, or where the user has drivers of their own in a thread, so that whatever those do is one
 * sentence and a status. Gives the exit status.
 */
export async function runWatched(line: readonly string[], run: () => Promise<number>): Promise<number> {
  const own = isMainThread ? userDriverIds(userFolders().drivers) : []
  if (own.length === 0) return run()
  let loading: string | null = null
  let status: number | null = null
  let refused: Problem | null = null
  const thread = watchWorker(threadFile, {
    who: whoOf(own),
    data: line,
    growthLimitMB,
    onMessage(message) {
      const report = message as WatchedReport
      if (report.type === 'printing') printHere(report.as, report.text)
      else if (report.type === 'loading') loading = report.file
      else if (report.type === 'over') status = report.status
      else if (report.type === 'refused') refused = new Problem(report.code, report.text, report.next)
      if (status !== null || refused !== null) thread.stop()
    },
  })
  const why = await thread.ended
  if (refused !== null) throw refused
  if (status !== null) return status
  const text = why ?? 'The thread of this command was stopped.'
  throw new Problem('driver-invalid', loading === null ? text : `${loading} does not load: ${text}`)
}
