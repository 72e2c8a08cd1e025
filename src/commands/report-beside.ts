// A finished recording into its test report, as PDF in the same folder: in a worker, where a user's own drivers may run.
import { dirname } from 'node:path'
import { forPlay, startFold } from '../fold/start-fold.ts'
import { userDriverIds } from '../load-drivers.ts'
import { userFolders } from '../user-folders.ts'

/** The path of what was written. */
export async function reportBeside(path: string): Promise<string> {
  const folder = userFolders().drivers
  const fold = startFold(userDriverIds(folder), forPlay)
  try {
    await fold.ask('open', { path, folder })
    return await fold.ask('report', { out: dirname(path) })
  } finally {
    fold.stop()
  }
}
