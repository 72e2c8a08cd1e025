// `report`: recordings into test reports that a customer can hold, a file for each part and a summary of several.
import type { Decimal, Paper } from '../core/model/paper-forms.ts'
import { asProblem, Problem } from '../errors.ts'
import { loadDrivers } from '../load-drivers.ts'
import type { ReportInput } from '../report/model/report-input.ts'
import { userFolders } from '../user-folders.ts'
import { bindDrivers } from './bind-drivers.ts'
import { errorStatus, gravestStatus } from './exit-status.ts'
import { makeFolder } from './make-folder.ts'
import { print, warn } from './print.ts'
import { printReport } from './print-report.ts'
import { readEvidence } from './read-evidence.ts'
import { readReportInput } from './read-report-input.ts'
import { readReportShop } from './read-shop.ts'
import { type ReportOrder, writeReport, writeSummary, writeTables } from './write-report.ts'

export type ReportOptions = {
  out: string
  html?: true
  text?: true
  csv?: true
  decimal?: Decimal
  number?: string
  issued?: string
  paper?: Paper
  print?: true
}

/**
 * Writes a report of each file into the folder `out`, and of several a summary; files of these names are replaced. One that
 * cannot be read does not stop the others. Gives the gravest exit status.
 */
export async function writeReports(files: readonly string[], options: ReportOptions): Promise<number> {
  const { out, html, text, csv, number, issued, paper, print: prints = false } = options
  if ([html, text, csv].filter(Boolean).length > 1)
    throw new Problem('usage', '--html, --text and --csv are forms of their own: choose one.')
  if (prints && (html || text || csv))
    throw new Problem('usage', '--print prints the PDF: leave --html, --text and --csv out.')
  if (options.decimal && !csv) throw new Problem('usage', '--decimal is for --csv only.')
  if (number !== undefined && files.length > 1)
    throw new Problem('usage', `--number is for one report, and ${files.length} files are named.`)
  if (issued !== undefined && number === undefined)
    throw new Problem('usage', '--issued is for --number only: a number of this bench keeps its own day.')
  const shop = await readReportShop()
  const drivers = await loadDrivers(userFolders().drivers)
  const form = html ? 'html' : text ? 'text' : 'pdf'
  const order: ReportOrder = {
    ...{ out, form, paper: paper ?? shop.paper, shop, drivers, number: number ?? null, issued: issued ?? null },
    ...{ names: new Set(), starts: new Map() },
  }
  const findDecode = bindDrivers(drivers)
  await makeFolder(out)
  const inputs: ReportInput[] = []
  const paths: string[] = []
  const statuses: number[] = []
  for (const file of files) {
    try {
      const evidence = await readEvidence(file, findDecode)
      if (csv) {
        inputs.push(await readReportInput(file, evidence, { ...order, onlyTold: true }))
        continue
      }
      const { path, input } = await writeReport(file, evidence, order)
      print(path)
      paths.push(path)
      inputs.push(input)
    } catch (error) {
      const { message, next } = asProblem(error)
      warn(`makebreak: ${message}\n${next}\n`)
      statuses.push(errorStatus(error))
    }
  }
  if (csv) for (const path of await writeTables(inputs, out, options.decimal ?? shop.decimal)) print(path)
  else if (inputs.length > 1) paths.push(await writeSummary(inputs, order))
  if (!csv && inputs.length > 1) print(paths.at(-1)!)
  if (prints) statuses.push(await printAll(paths))
  return gravestStatus(statuses)
}

/** Where one is not printed those behind it are not either: paper that lies there without its neighbours is soon mixed up. */
async function printAll(paths: readonly string[]): Promise<number> {
  try {
    for (const path of paths) print(await printReport(path))
    return 0
  } catch (error) {
    const { message, next } = asProblem(error)
    warn(`makebreak: ${message}\n${next}\n`)
    return errorStatus(error)
  }
}
