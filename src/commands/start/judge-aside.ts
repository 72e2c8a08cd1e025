// Recordings, one after the other, into what is told of each: where the user has drivers of their own, in a watched thread.
import { asProblem } from '../../errors.ts'
import type { Fold } from '../../fold/start-fold.ts'
import { loadDrivers, userDriverIds } from '../../load-drivers.ts'
import { type Judged, judgeRecording } from '../judge-recording.ts'

export type Judge = {
  /** Throws a Problem where the recording cannot be read, or where a driver of the user's own ends, hangs or fills the thread. */
  judge(path: string): Promise<Judged>
  stop(): void
}

/** Loads the project's drivers and those of `folder`. Throws the Problem of one that does not load. */
export async function openJudge(folder: string): Promise<Judge> {
  const own = userDriverIds(folder)
  if (own.length === 0) {
    const drivers = await loadDrivers()
    return { judge: (path) => judgeRecording(path, drivers), stop: () => {} }
  }
  const { forPlay, startFold } = await import('../../fold/start-fold.ts')
  let fold: Fold | null = startFold(own, forPlay)
  try {
    await fold.ask('describe', { rig: null, folder })
  } catch (error) {
    fold.stop()
    throw error
  }
  return {
    async judge(path) {
      const now = fold ?? startFold(own, forPlay)
      fold = now
      try {
        return await now.ask('judge', { path, folder })
      } catch (error) {
        // Where a driver has ended the thread, the next recording may need another one.
        if (asProblem(error).code === 'driver-invalid') {
          now.stop()
          fold = null
        }
        throw error
      }
    },
    stop: () => fold?.stop(),
  }
}
