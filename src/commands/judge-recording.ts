// A recording on disk into what is told of it, beside the drivers of today.
import type { Run } from '../core/intake/run.ts'
import type { Driver } from '../driver.ts'
import { bindDrivers, type FindDecode } from './bind-drivers.ts'
import { changedDrivers } from './changed-drivers.ts'
import { type Told, tell } from './describe-run.ts'
import { foldRecording } from './fold-recording.ts'

/** `notes`: which of the drivers that recorded it has changed since. */
export type Judged = { told: Told; notes: string[] }

/** What the recording at `path` comes to. Throws a Problem that names the file where that cannot be known. */
export async function judgeRecording(
  path: string,
  drivers: ReadonlyMap<string, Driver>,
  findDecode: FindDecode = bindDrivers(drivers),
): Promise<Judged> {
  return judgedBeside(await foldRecording(path, findDecode), drivers)
}

/** What a finished run comes to. */
export function judgedBeside(run: Run, drivers: ReadonlyMap<string, Driver>): Judged {
  const told = tell(run)
  return { told, notes: changedDrivers(told.setup.start, drivers) }
}
