// A recording process that died into a recording that is sealed all the same, and one sentence that says so.
import { Problem } from '../errors.ts'
import { finishRecording } from '../recording/finish-recording.ts'
import type { AcquisitionPlan } from '../source/acquire.ts'

/** Seals what is on disk where `died` says that the process ended early; gives what is to be said. Anything else comes out as it is. */
export function sealAfterDeath(died: Problem | null, { file, start }: AcquisitionPlan): Problem | null {
  if (died?.code !== 'acquisition-died') return died
  const early = died.message.replace(/\.$/, '')
  try {
    return new Problem(died.code, `${early}; the recording ${file} is sealed as ${finishRecording(file, start.id)}.`)
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException
    const why = error instanceof Problem ? message.replace(/\.$/, '') : code
    return new Problem(died.code, `${early}, and its recording ${file} could not be sealed (${why}).`)
  }
}
