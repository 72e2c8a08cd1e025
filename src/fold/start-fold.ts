// The worker of a live test as the main thread sees it: watched, spoken to, and ended with one sentence where it misbehaves.
//
// Against mistakes, not malice: a driver's code in it has the rights of the program.
import type { Rig } from '../core/model/rig.ts'
import type { Live } from '../core/view/live.ts'
import { type DescribedDriver, undescribed } from '../described-driver.ts'
import type { DriverFacts } from '../driver.ts'
import { Problem, type ProblemCode } from '../errors.ts'
import type { Acquiring } from '../source/acquire.ts'
import type { Growth } from '../source/follow-file.ts'
import { watchWorker } from '../watched-worker.ts'
import type { FoldOrder, FoldOutcome, FoldReport, LiveTest, ToldProblem } from './messages.ts'
import { unpackLive } from './packed-live.ts'

/** What the worker asks for while it folds. */
export type FoldHands = Pick<Acquiring, 'mark' | 'finish' | 'sendVerdict'> & { onLive: (live: Live) => void }

export type Fold = Pick<Growth, 'grew'> & {
  /** The user's own drivers, loaded there, as what is needed of them here for `rig`. Throws a Problem where one is none. */
  describe(rig: Rig, folder: string): Promise<DriverFacts[]>
  /** Folds the recording of `test` until `ended` was told. Throws the Problem `fold-ended` where the worker ends before. */
  begin(test: LiveTest, hands: FoldHands): Promise<FoldOutcome>
  /** The recording process is gone; `died` says why, where it did not end as it should. */
  ended(died: Problem | null): void
  stop(): void
}

// Source runs as .ts, the build as .mjs: the thread is of the same kind as this one.
const extension = import.meta.url.endsWith('.ts') ? '.ts' : '.mjs'
const threadFile = new URL(`main${extension}`, import.meta.url)

// More than any test has needed, the screen's part of it too, and less than would stop a small machine (shop rule).
const growthLimitMB = 600

/** Starts the worker. `own`: ids of the user's own drivers that it runs, so that what goes wrong there is theirs. */
export function startFold(own: readonly string[]): Fold {
  let hands: FoldHands | null = null
  let loading: string | null = null
  const described = Promise.withResolvers<readonly DescribedDriver[]>()
  const over = Promise.withResolvers<FoldOutcome>()
  // Whoever waits for one of the two hears of the end; of the other nobody needs to.
  for (const { promise } of [described, over]) promise.catch(() => {})

  const thread = watchWorker(threadFile, {
    who: whoOf(own),
    data: null,
    growthLimitMB,
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
      else if (report.type === 'described') {
        loading = null
        described.resolve(report.drivers)
      } else described.reject(problemOf(report.problem))
    },
  })
  const post = (order: FoldOrder) => thread.post(order)
  thread.ended.then((why) => {
    const code: ProblemCode = loading === null ? 'fold-ended' : 'driver-invalid'
    const text = loading === null ? why : `${loading} does not load: ${why}`
    const problem = new Problem(code, text ?? 'The thread that works out the readings was stopped.')
    described.reject(problem)
    over.reject(problem)
  })

  return {
    async describe(rig, folder) {
      post({ type: 'describe', rig, folder })
      return (await described.promise).map(undescribed)
    },
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

function whoOf(own: readonly string[]): string {
  const [first, ...others] = own.map((id) => `"${id}"`)
  if (first === undefined) return 'The thread that works out the readings'
  return others.length === 0 ? `The driver ${first}` : `One of the drivers ${[first, ...others].join(', ')}`
}
