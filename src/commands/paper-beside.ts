// A finished recording into its test report or its tag, as PDF in the same folder: in a worker, where a user's own drivers may run.
import { dirname } from 'node:path'
import { asProblem } from '../errors.ts'
import { forPlay, startFold } from '../fold/start-fold.ts'
import { userDriverIds } from '../load-drivers.ts'
import type { Paper } from '../terminal/panels/screen-state.ts'
import { userFolders } from '../user-folders.ts'
import { printWords, warn } from './print.ts'
import { printReport } from './print-report.ts'

/** Says where it is, and what became of it on the printer; what is in the way is told, and the verdict stays what it is. */
export async function paperBeside(path: string, paper: Paper): Promise<void> {
  const folder = userFolders().drivers
  const fold = startFold(userDriverIds(folder), forPlay)
  try {
    await fold.ask('open', { path, folder })
    if (paper === 'tag') {
      printWords(`Tag: ${await fold.ask('tag', { out: dirname(path) })}`)
      return
    }
    const report = await fold.ask('report', { out: dirname(path) })
    printWords(`Report: ${report}`)
    if (paper === 'print') printWords(await printReport(report))
  } catch (error) {
    const { message, next } = asProblem(error)
    warn(`makebreak: ${message}\n${next}\n`)
  } finally {
    fold.stop()
  }
}
