// A recording into the live screen again, at the pace at which it was made.
import { initialRun, type Run, step } from '../core/run.ts'
import { createReader } from '../recording/read.ts'
import { runSession } from '../session.ts'
import { replay } from '../source/replay.ts'
import type { FindDecode } from './bind-drivers.ts'
import { hasTerminal, openDisplay } from './display.ts'
import { pace } from './pace.ts'

/** Shows the recording at `path`, `speed` times as fast; whoever leaves early gets the end at once. Gives the whole run. */
export async function watchRecording(path: string, findDecode: FindDecode, speed: number): Promise<Run> {
  const hurry = new AbortController()
  const display = await openDisplay(!hasTerminal(), { onLeave: () => hurry.abort() })
  try {
    const run = await runSession({
      source: pace(replay(path, createReader()), speed, hurry.signal),
      initial: initialRun(findDecode),
      step,
      publish: (state) => {
        if (!hurry.signal.aborted) display.publish(state)
      },
    })
    await display.left()
    return run
  } finally {
    display.close()
  }
}
