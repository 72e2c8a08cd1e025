// The worker that folds as the main thread sees it: watched, spoken to, and ended with one sentence where it misbehaves.
//
// Against mistakes, not malice: a driver's code in it has the rights of the program.
import type { Live } from '../core/view/live.ts'
import { Problem, type ProblemCode } from '../errors.ts'
import type { Acquiring } from '../source/acquire.ts'
import type { Growth } from '../source/follow-file.ts'
import { watchWorker } from '../watched-worker.ts'
import type { AskName, Asks, FoldOrder, FoldOutcome, FoldReport, LiveTest, ToldProblem } from './messages.ts'
import { unpackLive } from './packed-live.ts'

/** What the worker asks for while it folds. */
export type FoldHands = Pick<Acquiring, 'mark' | 'finish' | 'sendVerdict'> & { onLive: (live: Live) => void }

export type Fold = Pick<Growth, 'grew'> & {
  /** What the worker answers. Throws the Problem that it tells, or that it ended before. */
  ask<N extends AskName>(name: N, given: Asks[N]['with']): Promise<Asks[N]['gives']>
  /** Folds the recording of `test` until `ended` was told. Throws a Problem where the worker ends before. */
  begin(test: LiveTest, hands: FoldHands): Promise<FoldOutcome>
  /** The recording process is gone; `died` says why, where it did not end as it should. */
  ended(died: Problem | null): void
  stop(): void
}

/** What the worker is for: how a Problem names its early end, by how much memory may grow meanwhile, and what new objects may take of it. */
type Use = { code: ProblemCode; growthLimitMB: number; youngMB?: number }

// Source runs as .ts, the build as .mjs: the thread is of the same kind as this one.
const extension = import.meta.url.endsWith('.ts') ? '.ts' : '.mjs'
const threadFile = new URL(`main${extension}`, import.meta.url)

// More than any has needed, the screen's part of it too, and less than would stop a small machine (shop rules). A recording
// that is played is kept with its states, so that going back is quick.
export const forTest: Use = { code: 'fold-ended', growthLimitMB: 600, youngMB: 16 }
export const forPlay: Use = { code: 'driver-invalid', growthLimitMB: 1500 }

/** Starts the worker. `own`: ids of the user's own drivers that it runs, so that what goes wrong there is theirs. */
export function startFold(own: readonly string[], { code, growthLimitMB, youngMB }: Use): Fold {
  let hands: FoldHands | null = null
  let loading: string | null = null
  let asked = 0
  let gone: Problem | null = null
  const open = new Map<number, { resolve(gives: Asks[AskName]['gives']): void; reject(problem: Problem): void }>()
  const over = Promise.withResolvers<FoldOutcome>()
  // Where no test was begun nobody waits for its outcome.
  over.promise.catch(() => {})

  const thread = watchWorker(threadFile, {
    who: whoOf(own),
    data: null,
    growthLimitMB,
    ...(youngMB !== undefined && { youngMB }),
    onMessage(message) {
      const report = message as FoldReport
      if (report.type === 'live') {
        hands?.onLive(unpackLive(report.live))
        post({ type: 'shown' })
      } else if (report.type === 'mark') hands?.mark(report.order)
      else if (report.type === 'finish') hands?.finish(report.reason)
      else if (report.type === 'verdict') hands?.sendVerdict(report.result)
      else if (report.type === 'over') over.resolve(report.outcome)
      else if (report.type === 'loading') loading = report.file
      else {
        // Drivers are loaded for what is asked first.
        loading = null
        const waiting = open.get(report.id)
        open.delete(report.id)
        if (report.type === 'answer') waiting?.resolve(report.gives)
        else waiting?.reject(problemOf(report.problem))
      }
    },
  })
  const post = (order: FoldOrder) => thread.post(order)
  void thread.ended.then((why) => {
    const text = why ?? 'The thread that works out the readings was stopped.'
    gone =
      loading === null ? new Problem(code, text) : new Problem('driver-invalid', `${loading} does not load: ${text}`)
    for (const { reject } of open.values()) reject(gone)
    over.reject(gone)
  })

  return {
    ask: (name, given) =>
      new Promise((resolve, reject) => {
        if (gone !== null) return reject(gone)
        const id = ++asked
        open.set(id, { resolve: resolve as (gives: Asks[AskName]['gives']) => void, reject })
        post({ type: 'ask', id, name, with: given })
      }),
    begin(test, theirs) {
      hands = theirs
      post({ type: 'begin', ...test })
      return over.promise
    },
    grew: () => post({ type: 'grew' }),
    ended: (died) => post({ type: 'ended', died: died && told(died) }),
    stop: thread.stop,
  }
}

export const problemOf = ({ code, text }: ToldProblem) => new Problem(code, text)

const told = ({ code, message }: Problem): ToldProblem => ({ code, text: message })

/** Whose code a thread runs, as a sentence begins. */
export function whoOf(own: readonly string[]): string {
  const [first, ...others] = own.map((id) => `"${id}"`)
  if (first === undefined) return 'The thread that works out the readings'
  return others.length === 0 ? `The driver ${first}` : `One of the drivers ${[first, ...others].join(', ')}`
}
