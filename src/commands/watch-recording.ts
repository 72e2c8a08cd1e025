// A recording into the bench screen again, or into plain lines at the pace at which it was made.
import { initialRun, type Run, step } from '../core/intake/run.ts'
import { createView } from '../fold/view-run.ts'
import { createReader } from '../recording/read.ts'
import { runSession } from '../session.ts'
import { replay } from '../source/replay.ts'
import { isReadAloud } from '../terminal/text/is-read-aloud.ts'
import type { FindDecode } from './bind-drivers.ts'
import { type Display, hasTerminal, showPlain } from './display.ts'
import { pace } from './pace.ts'
import { playRecording, type ToldRecording } from './play-recording.ts'

/** Whether a recording is watched on the screen; else in lines. */
export function watchesOnScreen(): boolean {
  return hasTerminal() && !isReadAloud()
}

/** Shows the recording at `path` on the screen, `speed` times as fast; whoever leaves early gets the end at once. */
export async function watchOnScreen(path: string, speed: number): Promise<ToldRecording> {
  const { openHost } = await import('../terminal/screens/host.tsx')
  const host = openHost()
  try {
    const { told } = await playRecording(host, path, { speed, tells: true })
    return told!
  } finally {
    await host.close()
  }
}

/** Tells the recording at `path` in lines, `speed` times as fast; gives the whole run. */
export async function watchInLines(path: string, findDecode: FindDecode, speed: number): Promise<Run> {
  const view = createView()
  let display: Display | null = null
  return runSession({
    source: pace(replay(path, createReader()), speed, new AbortController().signal),
    initial: initialRun(findDecode),
    step,
    publish(state) {
      const live = view(state)
      if (live === null || state.setup === null) return
      display ??= showPlain(state.setup.start)
      display.publish(live)
    },
  })
}
