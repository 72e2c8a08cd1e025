// A run in progress into what is shown of it, live and replayed alike: assessed and drawn up at most ten times a second.
import { statSync } from 'node:fs'
import { type Assessment, assess } from '../core/assess.ts'
import { type Flow, watching } from '../core/guide/guide.ts'
import { initialRun, type Run, step } from '../core/intake/run.ts'
import type { Live } from '../core/view/live.ts'
import { liveOf } from '../core/view/live-view.ts'
import type { AcquisitionPlan } from '../source/acquire.ts'
import { powerWarning } from './watch-power.ts'
import { createSpaceWatch } from './watch-space.ts'

/** What is known of the recording itself once its run is over. */
export type Last = Pick<Live, 'astray' | 'signature'>

/** A tenth of a second: as often as the screen is drawn. */
const everyMs = 100

/**
 * Takes the newest state of a run; gives what is shown of it, null before its `start`. `last`: nothing follows. Until then
 * a run that has ended and has no seal yet is shown as it was before. `file`: the recording, where its size is shown
 * and the room that is left for it watched. `ports`: the instruments, of which one may be about to switch itself off.
 */
export function createView(
  flow: Flow = watching,
  file: string | null = null,
  ports: AcquisitionPlan['ports'] = [],
): (run: Run, last?: Last) => Live | null {
  let assessment: Assessment = null
  let shown: Live | null = null
  let shownMs = Number.NEGATIVE_INFINITY
  let ended = false
  const watchSpace = file === null ? null : createSpaceWatch(file)
  return (run, last) => {
    const nowMs = performance.now()
    if (run.setup === null || (nowMs - shownMs < everyMs && !ended && run.end === null)) return shown
    // Without its seal a finished run is undecided: for that moment nothing is said of it.
    if (run.end !== null && run.damage.seal === 'missing' && !last) return shown
    shownMs = nowMs
    ended = run.end !== null
    assessment = assess(run, assessment)
    const live = liveOf(run, assessment, flow)
    const recordedBytes = file === null ? null : sizeOf(file)
    const warning = () => watchSpace?.(recordedBytes, live.elapsedS) ?? powerWarning(ports, live.elapsedS)
    const alarm = run.end === null ? (live.alarm ?? warning()) : live.alarm
    shown = { ...live, ...last, recordedBytes, alarm }
    return shown
  }
}

/** What is shown of a test of which nothing is recorded yet, so that nobody waits for the first of it. */
export function firstView(start: AcquisitionPlan['start'], flow: Flow): Live {
  const silent = initialRun(() => () => ({ readings: [], faults: [], memory: null }))
  const at = new Date().toISOString()
  return liveOf(step(silent, { type: 'start', t: 0, format: 1, at, ...start }), null, flow)
}

function sizeOf(file: string): number | null {
  return statSync(file, { throwIfNoEntry: false })?.size ?? null
}
