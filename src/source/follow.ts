// A recording while it is made, read where it is asked for: the acquisition process and the file that it writes.
import { type Acquiring, type AcquisitionPlan, acquire } from './acquire.ts'
import type { Reader } from './batches.ts'
import { type FollowedFile, followFile } from './follow-file.ts'

export type Following = Acquiring & Pick<FollowedFile, 'batches' | 'followed'>

/** Starts recording by `plan` and follows its file with `reader`, a fresh one: `batches` gives all that was recorded. */
export function follow(plan: AcquisitionPlan, reader: Reader): Following {
  const file = followFile(plan.file, reader)
  return { ...acquire(plan, file), batches: file.batches, followed: file.followed }
}
