// `report`: recordings into test reports that a customer can hold, a file for each part and a summary of several.
import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { asProblem, folderProblem, Problem } from '../errors.ts'
import { loadDrivers } from '../load-drivers.ts'
import type { Report } from '../report/model/report.ts'
import type { ReportInput } from '../report/model/report-input.ts'
import { reportOf } from '../report/model/report-of.ts'
import { summaryOf } from '../report/model/summary-of.ts'
import type { Paper } from '../report/pdf-document.ts'
import { userFolders } from '../user-folders.ts'
import { bindDrivers } from './bind-drivers.ts'
import { errorStatus, gravestStatus } from './exit-status.ts'
import { makeFolder } from './make-folder.ts'
import { print, warn } from './print.ts'
import { readReportInput } from './read-report-input.ts'

export type ReportOptions = { out: string; html?: true; text?: true; number?: string; paper: Paper }

type Form = { ending: string; write: (report: Report) => Promise<string | Uint8Array> }

/**
 * Writes a report of each file into the folder `out`, and of several a summary; files of these names are replaced. One that
 * cannot be read does not stop the others. Gives the gravest exit status.
 */
export async function writeReports(files: readonly string[], options: ReportOptions): Promise<number> {
  const { out, number = null } = options
  if (number !== null && files.length > 1)
    throw new Problem('usage', `--number is for one report, and ${files.length} files are named.`)
  const form = formOf(options)
  const drivers = await loadDrivers(userFolders().drivers)
  const findDecode = bindDrivers(drivers)
  await makeFolder(out)
  const inputs: ReportInput[] = []
  const statuses: number[] = []
  const names = new Set<string>()
  for (const file of files) {
    try {
      const input = await readReportInput(file, { drivers, findDecode, number })
      const name = nameOf(input, names)
      await save(join(out, `${name}${form.ending}`), await form.write(reportOf(input)))
      inputs.push(input)
    } catch (error) {
      const { message, next } = asProblem(error)
      warn(`makebreak: ${message}\n${next}\n`)
      statuses.push(errorStatus(error))
    }
  }
  if (inputs.length > 1) await save(join(out, `summary${form.ending}`), await form.write(summaryOf(inputs)))
  return gravestStatus(statuses)
}

function formOf({ html, text, paper }: ReportOptions): Form {
  if (html && text) throw new Problem('usage', '--html and --text are two forms: choose one.')
  if (html) return htmlForm
  return text ? textForm : pdfForm(paper)
}

const pdfForm = (paper: Paper): Form => ({
  ending: '.pdf',
  write: async (report) => (await import('../report/write-report-pdf.ts')).writeReportPdf(report, paper),
})
const htmlForm: Form = {
  ending: '.html',
  write: async (report) => (await import('../report/write-report-html.ts')).writeReportHtml(report),
}
const textForm: Form = {
  ending: '.txt',
  write: async (report) => (await import('../report/write-report-text.ts')).writeReportText(report),
}

/** The name of the recording and what the file is; a simulated one says so, and two of one name are told apart. */
function nameOf({ file, analysis }: ReportInput, names: Set<string>): string {
  const aside = analysis.setup.start.simulated ? '-simulated' : ''
  const bare = `${file.replace(/\.run$/, '')}${aside}-report`
  let name = bare
  for (let i = 2; names.has(name); i++) name = `${bare}-${i}`
  names.add(name)
  return name
}

async function save(path: string, content: string | Uint8Array): Promise<void> {
  try {
    await writeFile(path, content)
  } catch (error) {
    throw folderProblem(error, `The file ${path} cannot be written`, path)
  }
  print(path)
}
