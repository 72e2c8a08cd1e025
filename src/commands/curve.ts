// `curve`: a recording into its trip-point curve, drawn as SVG and written as CSV.
import { mkdir, writeFile } from 'node:fs/promises'
import { basename, join } from 'node:path'
import type { Run } from '../core/intake/run.ts'
import type { Decimal } from '../core/model/paper-forms.ts'
import type { Curve } from '../core/view/curve.ts'
import { curveOf } from '../core/view/curve-of.ts'
import { folderProblem } from '../errors.ts'
import { ours } from '../heartbeat.ts'
import { loadDrivers } from '../load-drivers.ts'
import { drawContactPlot } from '../report/draw-contact-plot.ts'
import { drawPressurePlot } from '../report/draw-pressure-plot.ts'
import { writeCurveCsv } from '../report/write-curve-csv.ts'
import { userFolders } from '../user-folders.ts'
import { bindDrivers } from './bind-drivers.ts'
import { foldRecording } from './fold-recording.ts'
import { print } from './print.ts'
import { readShop } from './read-shop.ts'
import { unknownSetup } from './unknown-setup.ts'

export type CurveOptions = { out: string; decimal?: Decimal }

/** Writes two plots and three tables into the folder `out`, named after the recording; files of these names are replaced. */
export async function writeCurve(file: string, { out, decimal }: CurveOptions): Promise<number> {
  const sign = decimal ?? (await readShop()).decimal
  const run = await foldRecording(file, bindDrivers(await loadDrivers(userFolders().drivers)))
  for (const path of await exportCurve(file, run, out, sign)) print(path)
  return 0
}

/** The curve of `run` and its two drawings, as SVG. */
export function drawCurve(file: string, run: Run): { curve: Curve; drawings: [string, string] } {
  const curve = ours(() => curveOf(run))
  if (curve === null) throw unknownSetup(run, file)
  return { curve, drawings: [drawPressurePlot(curve), drawContactPlot(curve)] }
}

/** The same of a run that is read already; the paths of what was written. */
export async function exportCurve(file: string, run: Run, out: string, decimal: Decimal): Promise<string[]> {
  const { curve, drawings } = drawCurve(file, run)
  const name = basename(file).replace(/\.run$/, '')
  const tables = writeCurveCsv(curve, decimal)
  const contents: [string, string][] = [
    [`${name}-pressure.svg`, drawings[0]],
    [`${name}-contact.svg`, drawings[1]],
    [`${name}-pressure.csv`, tables.pressure],
    [`${name}-contact.csv`, tables.contact],
    [`${name}-trips.csv`, tables.trips],
  ]
  try {
    await mkdir(out, { recursive: true })
    for (const [target, text] of contents) await writeFile(join(out, target), text)
  } catch (error) {
    throw folderProblem(error, `The folder ${out} cannot be written`, out)
  }
  return contents.map(([target]) => join(out, target))
}
