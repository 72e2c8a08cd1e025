// Drawings onto the printer, as a PDF with a page for each.
import { writePdf } from '../report/write-pdf.ts'
import { printPdf } from './print-pdf.ts'

/** Prints the drawings of `name`; gives what became of them as a sentence. Throws a Problem where nothing prints here. */
export const printPicture = async (name: string, drawings: readonly string[]): Promise<string> =>
  printPdf(name, await writePdf(drawings, name), 'Press c to write the curve as SVG, then print that from a browser.')
