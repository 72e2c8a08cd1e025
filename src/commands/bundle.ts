// `bundle`: recordings, with all that proves them, into one .zip that a customer can check with common tools.
import { createHash } from 'node:crypto'
import { readFile, stat, writeFile } from 'node:fs/promises'
import { basename, join } from 'node:path'
import { type Entry, howToName, megabytes, mostBytes } from '../bundle/entry.ts'
import { type BundledRecording, howToCheck } from '../bundle/how-to-check.ts'
import { digestOf, packBundle } from '../bundle/pack-bundle.ts'
import type { Paper } from '../core/model/paper-forms.ts'
import type { Driver } from '../driver.ts'
import { folderProblem, Problem } from '../errors.ts'
import { loadDrivers } from '../load-drivers.ts'
import { plainName } from '../recording-name.ts'
import type { ReportInput } from '../report/model/report-input.ts'
import { reportOf } from '../report/model/report-of.ts'
import { writeReportPdf } from '../report/write-report-pdf.ts'
import { knownKeys } from '../signing/bench-key.ts'
import { publicPem } from '../signing/key-file.ts'
import { userFolders } from '../user-folders.ts'
import { readVersion } from '../version.ts'
import { bindDrivers } from './bind-drivers.ts'
import { makeFolder } from './make-folder.ts'
import { paperName } from './paper-name.ts'
import { print } from './print.ts'
import { readEvidence } from './read-evidence.ts'
import { readReportInput } from './read-report-input.ts'
import { readReportShop } from './read-shop.ts'

export type BundleOptions = { out: string; paper?: Paper }

/** What goes into the bundle so far; a file that several recordings share is in it once. */
type Packing = { entries: Entry[]; names: Set<string>; paper: Paper }

/**
 * Writes the bundle of all `files` into the folder `out`; nothing is written where one of them cannot be read. Exit status 0:
 * what is in it is for the check to say.
 */
export async function bundleFiles(files: readonly string[], { out, paper }: BundleOptions): Promise<number> {
  await refuseLarge(files)
  const drivers = await loadDrivers(userFolders().drivers)
  const findDecode = bindDrivers(drivers)
  const shop = await readReportShop()
  const packing: Packing = { entries: [], names: new Set(), paper: paper ?? shop.paper }
  const recordings: BundledRecording[] = []
  const inputs: ReportInput[] = []
  for (const file of files) {
    const input = await readReportInput(file, await readEvidence(file, findDecode), { drivers, number: null, shop })
    inputs.push(input)
    recordings.push(await packRecording(file, input, drivers, packing))
  }
  const { entries } = packing
  const howTo = howToCheck(
    recordings,
    entries.map(({ name }) => name),
    readVersion(),
  )
  entries.push({ name: howToName, bytes: Buffer.from(howTo) })
  const [only] = inputs
  const name =
    inputs.length === 1 && only
      ? paperName(only.file, only.analysis.setup.start.simulated, 'bundle', new Set())
      : 'bundle'
  await makeFolder(out)
  const path = join(out, `${name}.zip`)
  try {
    await writeFile(path, packBundle(entries))
  } catch (error) {
    throw folderProblem(error, `The file ${path} cannot be written`, path)
  }
  print(path)
  return 0
}

async function refuseLarge(files: readonly string[]): Promise<void> {
  const sizes = await Promise.all(
    files.map((file) =>
      stat(file).then(
        ({ size }) => size,
        () => 0,
      ),
    ),
  )
  const whole = sizes.reduce((sum, size) => sum + size, 0)
  if (whole > mostBytes)
    throw new Problem(
      'bundle-too-large',
      `These recordings come to ${megabytes(whole)}; a bundle holds at most ${megabytes(mostBytes)}.`,
    )
}

/** Puts the recording with its result, its report, its drivers and its key into the bundle. */
async function packRecording(
  file: string,
  input: ReportInput,
  drivers: ReadonlyMap<string, Driver>,
  packing: Packing,
): Promise<BundledRecording> {
  const bytes = await readFile(file)
  if (digestOf(bytes) !== input.sha256)
    throw new Problem('recording-damaged', `${file} was changed while it was read.`, 'Bundle it once it is finished.')
  const { start } = input.analysis.setup
  const stem = freeStem(file, packing.names)
  const names = {
    run: `${stem}.run`,
    json: `${stem}.json`,
    report: `${stem}${start.simulated ? '-simulated' : ''}-report.pdf`,
  }
  const result = { file: names.run, ...input.result, ...(input.notes.length > 0 && { notes: input.notes }) }
  packing.entries.push(
    { name: names.run, bytes },
    { name: names.json, bytes: Buffer.from(`${JSON.stringify(result)}\n`) },
    { name: names.report, bytes: await writeReportPdf(reportOf(input), packing.paper) },
  )
  return {
    ...names,
    sha256: input.sha256,
    verdict: input.words.verdictWords[input.result.verdict].word,
    simulated: start.simulated,
    seal: input.result.damage.seal === 'intact' ? sealOf(bytes) : null,
    signed: packKey(input, packing),
    drivers: await packDrivers(start.drivers ?? {}, drivers, packing),
  }
}

/** A name that is free for all files of a recording, whatever capitals count for. */
function freeStem(file: string, names: Set<string>): string {
  const plain = plainName(basename(file).replace(/\.run$/, ''), 80) || 'recording'
  let stem = plain
  for (let i = 2; names.has(stem.toLowerCase()); i++) stem = `${plain}-${i}`
  names.add(stem.toLowerCase())
  return stem
}

const lineFeed = 10

/** What the last line of a recording seals, counted here once more. */
function sealOf(bytes: Buffer): BundledRecording['seal'] {
  const body = bytes.subarray(0, bytes.lastIndexOf(lineFeed, bytes.length - 2) + 1)
  const lines = body.reduce((count, byte) => count + (byte === lineFeed ? 1 : 0), 0)
  const sha256 = createHash('sha256').update(body).digest('hex')
  const plain = bytes.subarray(body.length).includes(`"lines":${lines},"sha256":"${sha256}"`)
  return { lines, sha256, plain }
}

/** Null too for what is no key and no signature: it would be typed after a command. */
function packKey({ signed, result }: ReportInput, packing: Packing): BundledRecording['signed'] {
  if (signed === null || !/^[0-9a-f]{64}$/.test(signed.key) || !/^[A-Za-z0-9+/]{86}==$/.test(signed.signature))
    return null
  const known = knownKeys(userFolders().signing).find(({ fingerprint }) => fingerprint === signed.key)
  const pem = known ? `bench-${signed.key.slice(0, 8)}.pem` : null
  if (known && pem) addOnce(packing, pem, Buffer.from(publicPem(known.publicKey)))
  const holds = result.damage.seal === 'intact' && signed.told.startsWith('signed by')
  return { key: signed.key, signature: signed.signature, pem, holds }
}

async function packDrivers(
  stated: Readonly<Record<string, string>>,
  drivers: ReadonlyMap<string, Driver>,
  packing: Packing,
): Promise<BundledRecording['drivers']> {
  const found: BundledRecording['drivers'][number][] = []
  for (const [id, sha256] of Object.entries(stated)) {
    // What a driver's id can be and what a digest is: anything else never was one.
    if (!/^[a-z0-9]+(-[a-z0-9]+)*$/.test(id) || !/^[0-9a-f]{64}$/.test(sha256)) continue
    const bytes = drivers.has(id) ? await readFile(join(userFolders().drivers, `${id}.mjs`)).catch(() => null) : null
    const name = `drivers/${id}.mjs`
    const isThat = bytes !== null && digestOf(bytes) === sha256
    if (isThat) addOnce(packing, name, bytes)
    found.push({ id, sha256, file: isThat ? name : null })
  }
  return found
}

function addOnce({ entries }: Packing, name: string, bytes: Uint8Array): void {
  if (!entries.some((entry) => entry.name === name)) entries.push({ name, bytes })
}
