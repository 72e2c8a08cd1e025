// A recording into the file of its test report, and several into that of their summary.
import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Driver } from '../driver.ts'
import { folderProblem } from '../errors.ts'
import type { Report } from '../report/model/report.ts'
import type { ReportInput } from '../report/model/report-input.ts'
import { reportOf } from '../report/model/report-of.ts'
import { summaryOf } from '../report/model/summary-of.ts'
import type { Paper } from '../report/pdf-document.ts'
import type { FindDecode } from './bind-drivers.ts'
import { paperName } from './paper-name.ts'
import { type Glances, readReportInput } from './read-report-input.ts'

/** What is written and where; `names` are those given in this folder before, so that none is given twice. */
export type ReportOrder = {
  out: string
  drivers: ReadonlyMap<string, Driver>
  findDecode: FindDecode
  paper: Paper
  form?: 'pdf' | 'html' | 'text'
  number?: string | null
  names?: Set<string>
  glances?: Glances
}

/** Writes the report of the recording at `file`. Throws a Problem where that cannot be read or the report not be written. */
export async function writeReport(file: string, order: ReportOrder): Promise<{ path: string; input: ReportInput }> {
  const { drivers, findDecode, number = null, names = new Set(), glances = new Map() } = order
  const input = await readReportInput(file, { drivers, findDecode, number, glances })
  const name = paperName(input.file, input.analysis.setup.start.simulated, 'report', names)
  return { path: await save(name, reportOf(input), order), input }
}

/** Writes the summary of several, of which there is at least one. */
export const writeSummary = (inputs: readonly ReportInput[], order: ReportOrder): Promise<string> =>
  save('summary', summaryOf(inputs), order)

const endings = { pdf: '.pdf', html: '.html', text: '.txt' } as const

async function save(name: string, report: Report, { out, form = 'pdf', paper }: ReportOrder): Promise<string> {
  const content = await write(report, form, paper)
  const path = join(out, `${name}${endings[form]}`)
  try {
    await writeFile(path, content)
    return path
  } catch (error) {
    throw folderProblem(error, `The file ${path} cannot be written`, path)
  }
}

/** Each writer is loaded only where it is used: that of the PDF takes a while. */
async function write(report: Report, form: keyof typeof endings, paper: Paper): Promise<string | Uint8Array> {
  if (form === 'html') return (await import('../report/write-report-html.ts')).writeReportHtml(report)
  if (form === 'text') return (await import('../report/write-report-text.ts')).writeReportText(report)
  return (await import('../report/write-report-pdf.ts')).writeReportPdf(report, paper)
}
