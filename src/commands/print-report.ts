// A test report that was written as PDF onto the printer.
import { readFile } from 'node:fs/promises'
import { basename } from 'node:path'
import { printPdf } from './print-pdf.ts'

/** Prints the PDF at `path`; gives what became of it as a sentence. Throws a Problem where nothing prints here. */
export const printReport = async (path: string): Promise<string> =>
  printPdf(
    basename(path, '.pdf'),
    await readFile(path),
    `The report is written: print ${path} from where there is a printer.`,
  )
