// A live test into its outcome: each batch that was recorded is folded and shown, and what the flow asks for is sent on.
import type { FindDecode } from '../commands/bind-drivers.ts'
import { resultWhenSealed, tell } from '../commands/describe-run.ts'
import { fellSilent } from '../core/guide/fell-silent.ts'
import { initialRun, type Run, step } from '../core/intake/run.ts'
import type { EndReason, RecordedEvent } from '../core/model/event.ts'
import type { Live } from '../core/view/live.ts'
import { isAstray, Problem } from '../errors.ts'
import type { Heartbeat } from '../heartbeat.ts'
import { runSession } from '../session.ts'
import type { FollowedFile } from '../source/follow-file.ts'
import { createGuard, unproven, unsealed } from './guard-recording.ts'
import type { FoldOutcome, FoldReport, LiveTest } from './messages.ts'
import { createOverseer } from './oversee-run.ts'
import { packLive } from './packed-live.ts'
import { createView } from './view-run.ts'
import { createFlowWriter } from './write-flow.ts'

export type FoldWorld = Pick<FollowedFile, 'batches' | 'followed'> & {
  findDecode: FindDecode
  /** When the recording process is gone: null where it ended as it should, else why. */
  exited: Promise<Problem | null>
  /** Does work that is ours, an analysis, and may take its time. */
  ours: Heartbeat['ours']
  say: (report: FoldReport) => void
  /** Who signed what was followed, once it is read to its seal. */
  signature: (run: Run) => string | null
  /** Takes what is to be called whenever the last view was taken. */
  onShown: (next: () => void) => void
}

/** Folds the recording to its end. What the source or a decoder throws comes out unchanged. */
export async function foldLive({ plan, flow, unattended }: LiveTest, world: FoldWorld): Promise<FoldOutcome> {
  const { batches, followed, findDecode, exited, ours, say, onShown } = world
  const finish = (reason: EndReason) => say({ type: 'finish', reason })
  const view = createView(flow, plan.file, plan.ports)
  const show = createShow(say, onShown)
  const writeFlow = createFlowWriter((order) => say({ type: 'mark', order }))
  const oversee = createOverseer(plan, unattended)
  const guard = createGuard(plan, { followed, finish })
  let refused: Problem | null = null
  let heard = false
  try {
    const run = await runSession({
      source: batches,
      initial: initialRun(findDecode),
      step(state: Run, event: RecordedEvent) {
        heard ||= event.type === 'rx'
        return step(state, event)
      },
      publish(state) {
        guard.look(state)
        // Before the file at its path is known to be the one that was sealed, nothing is said of how it ended.
        const live = ours(() => view(unsealed(state)))
        if (live) show(live)
        // Once the last input is read, its result goes back to be recorded with the seal.
        if (state.end !== null && state.damage.seal === 'missing')
          say({ type: 'verdict', result: ours(() => resultWhenSealed(state)) })
        if (live) writeFlow(state, live)
        const order = live && oversee(state, live)
        if (order instanceof Problem) refused ??= order
        if (order) finish(order instanceof Problem ? 'abandoned' : order)
      },
    })
    const died = await exited
    const astray = died !== null && isAstray(died) ? died : await guard.confirm(run)
    const fault = astray === null ? (refused ?? died) : run.setup === null ? astray : null
    if (fault !== null) {
      const nothingCame = run.setup !== null && !heard && run.marks.length === 0
      return { fault: { code: fault.code, text: fault.message }, nothingCame }
    }
    const ended = astray === null ? run : unproven(run)
    const why = astray && { message: astray.message, next: astray.next }
    const signature = astray === null ? world.signature(run) : null
    const last = ours(() => view(ended, { astray: why, signature }))
    if (last) say({ type: 'live', live: packLive(last) })
    return { told: ours(() => tell(ended, why, signature)), fellSilent: fellSilent(ended), lastedS: ended.tUs / 1e6 }
  } finally {
    guard.close()
  }
}

/** Sends each new view, and none before the last was taken: a terminal that stops reading would pile them up. */
function createShow(say: FoldWorld['say'], onShown: FoldWorld['onShown']): (live: Live) => void {
  let sent: Live | null = null
  let newest: Live | null = null
  let taken = true
  const send = () => {
    if (!taken || newest === null || newest === sent) return
    taken = false
    sent = newest
    say({ type: 'live', live: packLive(newest) })
  }
  onShown(() => {
    taken = true
    send()
  })
  return (live) => {
    newest = live
    send()
  }
}
