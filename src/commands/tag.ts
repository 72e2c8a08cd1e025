// `tag`: recordings into tags that go with their parts, a file for each or all of them on sheets.
import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Paper } from '../core/model/paper-forms.ts'
import type { Driver } from '../driver.ts'
import { asProblem, folderProblem, Problem } from '../errors.ts'
import { loadDrivers } from '../load-drivers.ts'
import type { ReportInput, ShopInput } from '../report/model/report-input.ts'
import type { Tag } from '../report/model/tag.ts'
import { tagOf } from '../report/model/tag-of.ts'
import { type Outlines, openOutlines } from '../report/tag/outlines.ts'
import { tagMm } from '../report/tag/tag-layout.ts'
import { sheetPlaces, writeTagPdf, writeTagSheet } from '../report/tag/write-tag-pdf.ts'
import { writeTagPng } from '../report/tag/write-tag-png.ts'
import { userFolders } from '../user-folders.ts'
import { bindDrivers } from './bind-drivers.ts'
import { errorStatus, gravestStatus } from './exit-status.ts'
import { makeFolder } from './make-folder.ts'
import { paperName } from './paper-name.ts'
import { print, warn } from './print.ts'
import { type Evidence, readEvidence } from './read-evidence.ts'
import { readReportInput } from './read-report-input.ts'
import { readReportShop } from './read-shop.ts'

export type TagOptions = {
  out: string
  form: 'single' | 'sheet' | 'roll'
  png?: '203' | '300'
  used?: number
  paper?: Paper
  number?: string
}

/** The width of a roll that label printers take. */
const rollMm = 62

/**
 * Writes the tags into the folder `out`; files of these names are replaced. A recording that cannot be read does not stop the
 * others. Gives the gravest exit status.
 */
export async function writeTags(files: readonly string[], options: TagOptions): Promise<number> {
  const shop = await readReportShop()
  const paper = options.paper ?? shop.paper
  refuseMixed(files, { ...options, paper })
  const drivers = await loadDrivers(userFolders().drivers)
  const findDecode = bindDrivers(drivers)
  const { out, form, used = 0, number = null } = options
  await makeFolder(out)
  const outlines = openOutlines()
  const [names, tags, statuses] = [new Set<string>(), [] as Tag[], [] as number[]]
  for (const file of files) {
    try {
      const input = await readReportInput(file, await readEvidence(file, findDecode), { drivers, number, shop })
      const tag = tagOf(input)
      tags.push(tag)
      if (form === 'sheet') continue
      print(await saveTag(input, tag, outlines, options, names))
    } catch (error) {
      const { message, next } = asProblem(error)
      warn(`makebreak: ${message}\n${next}\n`)
      statuses.push(errorStatus(error))
    }
  }
  if (form === 'sheet' && tags.length > 0)
    print(await save(join(out, 'tags.pdf'), await writeTagSheet(tags, outlines, paper, used)))
  return gravestStatus(statuses)
}

/** Writes the tag of the recording at `file`, which was read, as PDF of 40 × 20 mm into the folder `out`; its path. */
export async function writeTag(
  file: string,
  evidence: Evidence,
  { out, drivers, shop }: { out: string; drivers: ReadonlyMap<string, Driver>; shop: ShopInput },
): Promise<string> {
  const input = await readReportInput(file, evidence, { drivers, shop, number: null })
  return saveTag(input, tagOf(input), openOutlines(), { out, form: 'single' }, new Set())
}

async function saveTag(
  input: ReportInput,
  tag: Tag,
  outlines: Outlines,
  options: TagOptions,
  names: Set<string>,
): Promise<string> {
  const name = paperName(input.file, input.analysis.setup.start.simulated, 'tag', names)
  const { ending, content } = await oneTag(tag, outlines, options)
  return save(join(options.out, `${name}${ending}`), content)
}

/** What does not go together, before anything is written. */
function refuseMixed(
  files: readonly string[],
  { form, png, used, paper, number }: TagOptions & { paper: Paper },
): void {
  if (number !== undefined && files.length > 1)
    throw new Problem('usage', `--number is for one tag, and ${files.length} files are named.`)
  if (form === 'sheet' && png !== undefined)
    throw new Problem('usage', '--png is for a label printer, which takes no sheets: leave one of the two out.')
  if (form !== 'sheet' && used !== undefined) throw new Problem('usage', '--used is for --form sheet only.')
  const { all } = sheetPlaces(paper)
  if ((used ?? 0) >= all)
    throw new Problem('usage', `--used ${used} leaves no place: a sheet of this paper has ${all} places.`)
}

async function oneTag(tag: Tag, outlines: Outlines, { form, png }: TagOptions) {
  const widthMm = form === 'roll' ? rollMm : tagMm.width
  if (png === undefined) return { ending: '.pdf', content: await writeTagPdf(tag, outlines, widthMm) }
  const dpi = png === '203' ? 203 : 300
  return { ending: `-${png}.png`, content: writeTagPng(tag, outlines, dpi, widthMm) }
}

async function save(path: string, content: Uint8Array): Promise<string> {
  try {
    await writeFile(path, content)
    return path
  } catch (error) {
    throw folderProblem(error, `The file ${path} cannot be written`, path)
  }
}
