// `report`: recordings into test reports that a customer can hold, a file for each part and a summary of several.
import type { Paper } from '../core/model/paper-forms.ts'
import { asProblem, Problem } from '../errors.ts'
import { loadDrivers } from '../load-drivers.ts'
import type { ReportInput } from '../report/model/report-input.ts'
import { userFolders } from '../user-folders.ts'
import { bindDrivers } from './bind-drivers.ts'
import { errorStatus, gravestStatus } from './exit-status.ts'
import { makeFolder } from './make-folder.ts'
import { print, warn } from './print.ts'
import { readEvidence } from './read-evidence.ts'
import { readReportShop } from './read-shop.ts'
import { type ReportOrder, writeReport, writeSummary } from './write-report.ts'

export type ReportOptions = { out: string; html?: true; text?: true; number?: string; paper?: Paper }

/**
 * Writes a report of each file into the folder `out`, and of several a summary; files of these names are replaced. One that
 * cannot be read does not stop the others. Gives the gravest exit status.
 */
export async function writeReports(files: readonly string[], options: ReportOptions): Promise<number> {
  const { out, html, text, number, paper } = options
  if (html && text) throw new Problem('usage', '--html and --text are two forms: choose one.')
  if (number !== undefined && files.length > 1)
    throw new Problem('usage', `--number is for one report, and ${files.length} files are named.`)
  const shop = await readReportShop()
  const drivers = await loadDrivers(userFolders().drivers)
  const form = html ? 'html' : text ? 'text' : 'pdf'
  const order: ReportOrder = {
    ...{ out, form, paper: paper ?? shop.paper, shop, drivers, number: number ?? null },
    ...{ names: new Set(), starts: new Map() },
  }
  const findDecode = bindDrivers(drivers)
  await makeFolder(out)
  const inputs: ReportInput[] = []
  const statuses: number[] = []
  for (const file of files) {
    try {
      const { path, input } = await writeReport(file, await readEvidence(file, findDecode), order)
      print(path)
      inputs.push(input)
    } catch (error) {
      const { message, next } = asProblem(error)
      warn(`makebreak: ${message}\n${next}\n`)
      statuses.push(errorStatus(error))
    }
  }
  if (inputs.length > 1) print(await writeSummary(inputs, order))
  return gravestStatus(statuses)
}
