// A finished recording into its test report, as PDF in the same folder: in a worker, where a user's own drivers may run.
import { dirname } from 'node:path'
import { asProblem } from '../errors.ts'
import { forPlay, startFold } from '../fold/start-fold.ts'
import { userDriverIds } from '../load-drivers.ts'
import { userFolders } from '../user-folders.ts'
import { printWords, warn } from './print.ts'
import { printReport } from './print-report.ts'

/** Says where it is, and what became of it on the printer; what is in the way is told, and the verdict stays what it is. */
export async function reportBeside(path: string, prints: boolean): Promise<void> {
  const folder = userFolders().drivers
  const fold = startFold(userDriverIds(folder), forPlay)
  try {
    await fold.ask('open', { path, folder })
    const report = await fold.ask('report', { out: dirname(path) })
    printWords(`Report: ${report}`)
    if (prints) printWords(await printReport(report))
  } catch (error) {
    const { message, next } = asProblem(error)
    warn(`makebreak: ${message}\n${next}\n`)
  } finally {
    fold.stop()
  }
}
