// A recording into the file of its test report, and several into that of their summary.

import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Decimal, Paper } from '../core/model/paper-forms.ts'
import type { Driver } from '../driver.ts'
import { folderProblem } from '../errors.ts'
import type { Report } from '../report/model/report.ts'
import type { ReportInput, ShopInput } from '../report/model/report-input.ts'
import { reportOf } from '../report/model/report-of.ts'
import { summaryOf } from '../report/model/summary-of.ts'
import type { Starts } from './earlier-tests.ts'
import { paperName } from './paper-name.ts'
import type { Evidence } from './read-evidence.ts'
import { readReportInput } from './read-report-input.ts'

/** What is written and where; `names` are those given in this folder before, so that none is given twice. */
export type ReportOrder = {
  out: string
  drivers: ReadonlyMap<string, Driver>
  shop: ShopInput
  paper: Paper
  form?: 'pdf' | 'html' | 'text'
  number: string | null
  /** The day of issue of a `number` that is given, `YYYY-MM-DD`. */
  issued?: string | null
  names?: Set<string>
  starts?: Starts
}

export type WrittenReport = { path: string; input: ReportInput }

/** Writes the report of the recording at `file`, which was read. Throws a Problem where it cannot be reported or written. */
export async function writeReport(file: string, evidence: Evidence, order: ReportOrder): Promise<WrittenReport> {
  const input = await readReportInput(file, evidence, order)
  const name = paperName(input.file, input.analysis.setup.start.simulated, 'report', order.names ?? new Set())
  return { path: await save(name, reportOf(input), order), input }
}

/** Writes the summary of several, of which there is at least one. */
export const writeSummary = (inputs: readonly ReportInput[], order: ReportOrder): Promise<string> =>
  save('summary', summaryOf(inputs), order)

const endings = { pdf: '.pdf', html: '.html', text: '.txt' } as const

async function save(name: string, report: Report, { out, form = 'pdf', paper }: ReportOrder): Promise<string> {
  return saveFile(join(out, `${name}${endings[form]}`), await write(report, form, paper))
}

/** Writes the tables of results and of strokes of all `inputs`; their paths. */
export async function writeTables(inputs: readonly ReportInput[], out: string, decimal: Decimal): Promise<string[]> {
  const { writeResultsCsv } = await import('../report/write-results-csv.ts')
  const { results, cycles } = writeResultsCsv(inputs, decimal)
  return [await saveFile(join(out, 'results.csv'), results), await saveFile(join(out, 'cycles.csv'), cycles)]
}

async function saveFile(path: string, content: string | Uint8Array): Promise<string> {
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
