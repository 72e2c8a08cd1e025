// A run in progress onto the live screen or into plain lines: live and replayed runs are shown the same way.

import { statSync } from 'node:fs'
import { type Assessment, assess } from '../core/assess.ts'
import { type Flow, watching } from '../core/guide/guide.ts'
import type { Run } from '../core/intake/run.ts'
import type { EndReason } from '../core/model/event.ts'
import type { MarkName } from '../core/model/marks.ts'
import type { Live } from '../core/view/live.ts'
import { liveOf } from '../core/view/live-view.ts'
import { createBell } from '../terminal/bell.ts'
import { createStore } from '../terminal/store.ts'
import { createPlain } from '../terminal/text/plain.ts'
import { speedOf, titleOf } from './describe-run.ts'
import { printWords } from './print.ts'

export type Display = {
  /**
   * Takes the newest state of the run; gives what is shown of it, null before its `start`. `last`: nothing follows. Until
   * then a run that has ended and has no seal yet is shown as it was before.
   */
  publish(run: Run, last?: Last): Live | null
  /** Resolves when the operator has left the screen; at once where there is none. */
  left(): Promise<void>
  /** Whether the verdict has been told in lines that stay. */
  told(): boolean
  /** Takes the screen away. */
  close(): void
}

/** What is known of the recording itself once its run is over. */
export type Last = Pick<Live, 'astray'>

/** What the operator may do; a replay leaves the first two out. */
export type Hands = {
  onMark?: (mark: MarkName, text?: string) => void
  onEnd?: (reason: Extract<EndReason, 'finished' | 'abandoned'>) => void
  /** The screen has gone: by a key, by a signal, or because it was taken away. */
  onLeave: () => void
}

/** What is known before the test; `grave`: no result could pass. */
export type Opening = { lines: readonly string[]; grave: boolean }

export type Showing = {
  opening: Opening
  /** What this session does of the flow of the test. */
  flow: Flow
  /** The recording, where its size is to be shown. */
  file: string | null
  /** Whether the bell rings at first; null where there is none. */
  bell: boolean | null
}

/** A tenth of a second: as often as the screen is drawn. */
const everyMs = 100

/** Whether there is a terminal at both ends, so that a screen can be drawn and keys read. */
export function hasTerminal(): boolean {
  return Boolean(process.stdin.isTTY && process.stdout.isTTY)
}

/** Opens the screen, or starts plain lines. The screen itself is loaded only where it is drawn. */
export async function openDisplay(
  plain: boolean,
  hands: Hands,
  { opening = { lines: [], grave: false }, flow = watching, file = null, bell = null }: Partial<Showing> = {},
): Promise<Display> {
  const view = createView(flow, file)
  if (plain) {
    const tell = createPlain(printWords)
    return {
      publish(run) {
        const live = view(run)
        // The verdict is told once the seal has been read, by whoever opened this.
        if (live !== null && live.phase !== 'ended' && run.setup !== null) tell(live, run.setup.start.part)
        return live
      },
      left: async () => {},
      told: () => false,
      close: () => {},
    }
  }
  const { showLive } = await import('../terminal/app.tsx')
  const store = createStore()
  let screen: ReturnType<typeof showLive> | null = null
  let done: Promise<void> = Promise.resolve()
  let sound = bell === true
  const ring = createBell((bytes) => sound && process.stdout.write(bytes))
  const onSound = (on: boolean) => {
    sound = on
  }
  return {
    publish(run, last) {
      const live = view(run, last)
      if (live === null || run.setup === null) return live
      store.set(withOpening(live, opening))
      ring(live)
      if (screen === null) {
        const { part, simulated } = run.setup.start
        const { onLeave, ...keys } = hands
        const speed = speedOf(run.setup)
        const bells = bell === null ? {} : { onSound }
        screen = showLive({
          part,
          title: titleOf(run.setup),
          simulated,
          speed,
          opening: opening.lines,
          store,
          ...keys,
          ...bells,
        })
        done = screen.done.then(onLeave)
      }
      return live
    },
    left: () => done,
    told: () => screen?.told() ?? false,
    close: () => screen?.close(),
  }
}

/** Until the first stroke it stands as an alarm that no result could pass. */
function withOpening(live: Live, { lines, grave }: Opening): Live {
  const early = live.phase === 'waiting' || live.phase === 'zero'
  return grave && early ? { ...live, alarm: live.alarm ?? lines.join(' ') } : live
}

/** What is shown of a run, worked out anew at most ten times a second, and always when it ends or its damage is known. */
function createView(flow: Flow, file: string | null): (run: Run, last?: Last) => Live | null {
  let assessment: Assessment = null
  let shown: Live | null = null
  let shownMs = Number.NEGATIVE_INFINITY
  let ended = false
  return (run, last) => {
    const nowMs = performance.now()
    if (run.setup === null || (nowMs - shownMs < everyMs && !ended && run.end === null)) return shown
    // Without its seal a finished run is undecided: for that moment nothing is said of it.
    if (run.end !== null && run.damage.seal === 'missing' && !last) return shown
    shownMs = nowMs
    ended = run.end !== null
    assessment = assess(run, assessment)
    shown = { ...liveOf(run, assessment, flow), ...last, recordedBytes: file === null ? null : sizeOf(file) }
    return shown
  }
}

function sizeOf(file: string): number | null {
  return statSync(file, { throwIfNoEntry: false })?.size ?? null
}
