// A recorded test into what one that follows it takes over: part, rig, purpose, operator and job, and the field that names the recording.
import type { EndReason, StartEvent } from '../core/model/event.ts'
import { Problem } from '../errors.ts'
import { glanceAt } from '../recording/glance.ts'
import type { RunOptions } from './prepare-run.ts'

type EarlierStart = Pick<StartEvent, 'id' | 'purpose' | 'operator' | 'conditions' | 'job'> & {
  part: unknown
  rig: unknown
}

/** Options of a test that follows the one that began with `start` and ended by `end`, null: without an end. */
export function following(start: EarlierStart, end: EndReason | null): RunOptions {
  const { id, part, rig, purpose, operator, conditions, job } = start
  return {
    purpose,
    earlier: { part, rig, named: end === 'finished' ? { repeats: id } : { continues: id } },
    ...(typeof operator === 'string' && { operator }),
    // How long it has rested since is not known.
    ...(conditions && { conditions: { ...conditions, restS: null } }),
    ...(job && { customer: job.customer ?? '', order: job.order ?? '' }),
  }
}

/** The same for the recording at `path`. */
export async function followingFile(path: string): Promise<RunOptions> {
  const glance = await glanceAt(path)
  if (glance !== null) return following(glance.start, glance.end)
  throw new Problem('recording-damaged', `The first line of ${path} cannot be read, so its part and rig are not known.`)
}
