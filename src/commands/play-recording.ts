// A recording on disk onto the bench screen, played at any pace and jumped about in; its budget and its curve from there.

import { dirname } from 'node:path'
import { type Assessment, assess } from '../core/assess.ts'
import { initialRun, type Run } from '../core/intake/run.ts'
import { createTimeline } from '../core/intake/timeline.ts'
import type { RecordedEvent } from '../core/model/event.ts'
import type { Result } from '../core/model/result.ts'
import type { Live } from '../core/view/live.ts'
import { liveOf } from '../core/view/live-view.ts'
import { Problem } from '../errors.ts'
import { createReader } from '../recording/read.ts'
import { replay } from '../source/replay.ts'
import type { Host } from '../terminal/screens/host.tsx'
import {
  advance,
  createPlayer,
  lessonKeys,
  type PlayerAsk,
  type PlayerState,
  playerState,
  recordingKeys,
} from '../terminal/screens/player.ts'
import { budgetLines } from '../terminal/text/budget-lines.ts'
import { isBareConsole } from '../terminal/text/console-signs.ts'
import { isReadAloud } from '../terminal/text/is-read-aloud.ts'
import type { FindDecode } from './bind-drivers.ts'
import { exportCurve } from './curve.ts'
import { tell, titleOf } from './describe-run.ts'
import { naming } from './fold-recording.ts'
import { showPage } from './show-page.ts'
import { unknownSetup } from './unknown-setup.ts'

/** As often as the screen is drawn. */
const tickMs = 100

export type PlayOptions = {
  /** Seconds of the recording a second. */
  speed: number
  /** The recording hides a fault: nothing that names it is shown, and no key that would show it. */
  lesson?: (live: Live) => Live
}

/** How the player was left: `name`: the learner is ready to name the fault; null: the whole program is to be left. */
export type Played = { run: Run; left: Extract<PlayerAsk, 'back' | 'name'> | null }

/** Plays the recording at `path` until it is left; gives the whole run. Throws a Problem for a file that is no recording. */
export async function playRecording(
  host: Host,
  path: string,
  findDecode: FindDecode,
  { speed, lesson }: PlayOptions,
): Promise<Played> {
  const events: RecordedEvent[] = []
  await naming(path, async () => {
    for await (const batch of replay(path, createReader())) events.push(...batch)
  })
  const timeline = createTimeline(events, initialRun(findDecode))
  const whole = timeline.at(timeline.endUs)
  const { setup } = whole
  if (setup === null) throw unknownSetup(whole, path)
  // A second's work: done when it is first asked for.
  let result: Result | null = null
  const player = createPlayer({
    part: setup.start.part,
    title: titleOf(setup.start),
    simulated: setup.start.simulated,
    dots: isBareConsole() ? 'block' : 'braille',
    calm: isReadAloud(),
    own: lesson ? lessonKeys : recordingKeys,
  })
  const liveAt = createLive()
  const look = (atS: number) => {
    const live = liveAt(timeline.at(atS * 1e6))
    return lesson ? lesson(live) : live
  }

  let state: PlayerState = { ...playerState(timeline.endUs / 1e6, speed), live: look(0) }
  /** The time that `live` is of: a jump changes the state's own first. */
  let lookedS = 0
  for (;;) {
    const left: Exclude<PlayerAsk, 'curve'> | null = await host.show(
      player,
      state,
      (ask, hands) => {
        if (ask === 'curve') exportTo(path, whole).then(hands.say)
        else {
          // The player is found again as it was left.
          state = hands.now()
          hands.leave(ask)
        }
      },
      (hands) => {
        let lastMs = performance.now()
        const tick = setInterval(() => {
          const nowMs = performance.now()
          const next = advance(hands.now(), (nowMs - lastMs) / 1000)
          lastMs = nowMs
          if (next.atS === lookedS && next === hands.now()) return
          lookedS = next.atS
          hands.change(() => ({ ...next, live: look(next.atS) }))
        }, tickMs)
        return () => clearInterval(tick)
      },
    )
    if (left !== 'budget') return { run: whole, left }
    const known: Result = result ?? tell(whole).result
    result = known
    const budget = (width: number) => budgetLines(known, setup.start.part, width < 100)
    const read = await showPage(host, 'Uncertainty budget', budget, { table: true })
    if (read === null) return { run: whole, left: null }
  }
}

/** What is shown of a run; the analysis of the last one is kept for as long as no stroke has ended since. */
function createLive(): (run: Run) => Live {
  let assessment: Assessment = null
  return (run) => {
    assessment = assess(run, assessment)
    return liveOf(run, assessment)
  }
}

/** Where the curve was written, or why it was not, as a sentence. */
async function exportTo(path: string, run: Run): Promise<string> {
  try {
    const written = await exportCurve(path, run, dirname(path))
    return `Curve: ${written.length} files, the first is ${written[0]}`
  } catch (error) {
    if (error instanceof Problem) return `${error.message} ${error.next}`
    throw error
  }
}
