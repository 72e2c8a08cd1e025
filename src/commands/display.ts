// A run in progress onto the live screen or into plain lines: live and replayed runs are shown the same way.
import type { EndReason, MarkName } from '../core/event.ts'
import type { Live } from '../core/live.ts'
import { liveOf, type Standing, standingOf } from '../core/live-view.ts'
import type { Run } from '../core/run.ts'
import { createPlain } from '../terminal/plain.ts'
import { createStore } from '../terminal/store.ts'
import { titleOf } from './describe-run.ts'
import { print } from './print.ts'

export type Display = {
  /** Takes the newest state of the run; gives what is shown of it, null before its `start`. */
  publish(run: Run): Live | null
  /** Resolves when the operator has left the screen; at once where there is none. */
  left(): Promise<void>
  /** Takes the screen away. */
  close(): void
}

/** What the operator may do; a replay leaves the first two out. */
export type Hands = {
  onMark?: (mark: MarkName, text?: string) => void
  onEnd?: (reason: Extract<EndReason, 'finished' | 'abandoned'>) => void
  /** The screen has gone: by a key, by a signal, or because it was taken away. */
  onLeave: () => void
}

/** What is known before the test; `grave`: no result could pass. */
export type Opening = { lines: readonly string[]; grave: boolean }

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
  opening: Opening = { lines: [], grave: false },
): Promise<Display> {
  const view = createView()
  if (plain) {
    const tell = createPlain(print)
    return {
      publish(run) {
        const live = view(run)
        // The verdict is told once the seal has been read, by whoever opened this.
        if (live !== null && live.phase !== 'ended' && run.setup !== null) tell(live, run.setup.start.part)
        return live
      },
      left: async () => {},
      close: () => {},
    }
  }
  const { showLive } = await import('../terminal/app.tsx')
  const store = createStore()
  let screen: ReturnType<typeof showLive> | null = null
  let done: Promise<void> = Promise.resolve()
  return {
    publish(run) {
      const live = view(run)
      if (live === null || run.setup === null) return live
      store.set(withOpening(live, opening))
      if (screen === null) {
        const { part, simulated } = run.setup.start
        const { onLeave, ...keys } = hands
        screen = showLive({ part, title: titleOf(run.setup), simulated, store, ...keys })
        done = screen.done.then(onLeave)
      }
      return live
    },
    left: () => done,
    close: () => screen?.close(),
  }
}

/** Until the first stroke the screen says too what is known before the test; as an alarm where no result could pass. */
function withOpening(live: Live, { lines, grave }: Opening): Live {
  if (lines.length === 0 || (live.phase !== 'waiting' && live.phase !== 'zero')) return live
  const text = lines.join(' ')
  if (grave) return { ...live, alarm: live.alarm ?? text }
  return { ...live, next: `${live.next} ${text}` }
}

/** What is shown of a run, worked out anew at most ten times a second, and always when it ends or its damage is known. */
function createView(): (run: Run) => Live | null {
  let standing: Standing = null
  let shown: Live | null = null
  let shownMs = Number.NEGATIVE_INFINITY
  let ended = false
  return (run) => {
    const nowMs = performance.now()
    if (run.setup === null || (nowMs - shownMs < everyMs && !ended && run.end === null)) return shown
    shownMs = nowMs
    ended = run.end !== null
    standing = standingOf(run, standing)
    shown = liveOf(run, standing)
    return shown
  }
}
