// What is shown of a run in progress onto the live screen or into plain lines: live and replayed runs are shown the same way.

import { basename } from 'node:path'
import type { EndReason } from '../core/model/event.ts'
import type { MarkName } from '../core/model/marks.ts'
import type { TypedOrder } from '../core/model/typed.ts'
import type { Live } from '../core/view/live.ts'
import { createBell } from '../terminal/bell.ts'
import type { Paper } from '../terminal/panels/screen-state.ts'
import { createStore } from '../terminal/store.ts'
import { createPlain } from '../terminal/text/plain.ts'
import { speedOf, type TestStart, titleOf } from './describe-run.ts'
import { printWords } from './print.ts'

export type Display = {
  /** Takes the newest of what is shown. */
  publish(live: Live): void
  /** Resolves when the operator has left the screen; at once where there is none. */
  left(): Promise<void>
  /** Whether the verdict has been told in lines that stay. */
  told(): boolean
  /** Takes the screen away. */
  close(): void
}

/** What the operator may do. */
export type Hands = {
  onMark: (mark: MarkName, text?: string) => void
  /** What an instrument without a port shows. */
  onTyped: (order: TypedOrder) => void
  onEnd: (reason: Extract<EndReason, 'finished' | 'abandoned'>) => void
  /** The screen is left for the same test once more. */
  onRepeat: () => void
  /** The screen is left, and a paper is to be made of the recording. */
  onPaper: (paper: Paper) => void
  /** The screen is left for a test of the same part under this serial number. */
  onSerial: (serial: string) => void
  /** The screen has gone: by a key, by a signal, or because it was taken away. */
  onLeave: () => void
}

/** What is known before the test; `grave`: no result could pass. */
export type Opening = { lines: readonly string[]; grave: boolean }

/** `file`: of the recording; `bell`: whether it rings at first. */
export type Showing = { start: TestStart; file: string; opening: Opening; bell: boolean }

/** Whether there is a terminal at both ends, so that a screen can be drawn and keys read. */
export function hasTerminal(): boolean {
  return Boolean(process.stdout.isTTY && process.stdin.isTTY)
}

/** Plain lines of a run of `part`. The verdict is told once the seal has been read, by whoever opened this. */
export function showPlain({ part }: Pick<TestStart, 'part'>): Display {
  const tell = createPlain(printWords)
  return {
    publish(live) {
      if (live.phase !== 'ended') tell(live, part)
    },
    left: async () => {},
    told: () => false,
    close: () => {},
  }
}

/** The live screen, drawn with the first that is published. It is loaded only where it is drawn. */
export async function openScreen(
  { onLeave, ...keys }: Hands,
  { start, file, opening, bell }: Showing,
): Promise<Display> {
  const { showLive } = await import('../terminal/app.tsx')
  const store = createStore()
  let screen: ReturnType<typeof showLive> | null = null
  let done: Promise<void> = Promise.resolve()
  let sound = bell
  const ring = createBell((bytes) => sound && process.stdout.write(bytes))
  const onSound = (on: boolean) => {
    sound = on
  }
  return {
    publish(live) {
      store.set(withOpening(live, opening))
      ring(live)
      if (screen !== null) return
      const { part, simulated } = start
      const about = {
        part,
        title: titleOf(start),
        simulated,
        speed: speedOf(start),
        opening: opening.lines,
        recording: basename(file),
      }
      screen = showLive({ ...about, store, ...keys, onSound })
      done = screen.done.then(onLeave)
    },
    left: () => done,
    told: () => screen?.told() ?? false,
    close: () => screen?.close(),
  }
}

/** Until the first stroke an alarm says that no result could pass. */
function withOpening(live: Live, { lines, grave }: Opening): Live {
  const early = live.phase === 'waiting' || live.phase === 'zero'
  return grave && early ? { ...live, alarm: live.alarm ?? lines.join(' ') } : live
}
