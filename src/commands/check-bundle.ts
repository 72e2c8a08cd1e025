// A bundle into whether all of it is as its list says, its recordings are whole, and its results are what comes out today.
import { mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { basename, join } from 'node:path'
import { type Entry, howToName, megabytes, mostBytes, sumsName } from '../bundle/entry.ts'
import { digestOf } from '../bundle/pack-bundle.ts'
import { unpackBundle } from '../bundle/unpack-bundle.ts'
import { resultOf } from '../core/judge.ts'
import { type Verdict, verdicts } from '../core/model/result.ts'
import { shortFingerprint } from '../core/text/fingerprint-text.ts'
import { Problem } from '../errors.ts'
import { ours } from '../heartbeat.ts'
import { loadDrivers } from '../load-drivers.ts'
import { glanceAt } from '../recording/glance.ts'
import { readKeyText } from '../signing/key-file.ts'
import { cleanText } from '../terminal/text/text.ts'
import { verdictWords } from '../terminal/text/words.ts'
import { userFolders } from '../user-folders.ts'
import { bindDrivers } from './bind-drivers.ts'
import { closeChain } from './chain-text.ts'
import { foldRecording } from './fold-recording.ts'
import type { Keys } from './signature-text.ts'
import type { FileTold } from './tell-files.ts'

const wrong = 2

/** `checkFile` tells of one recording on disk, by these keys. Throws a Problem where the bundle at `path` cannot be used. */
export async function checkBundle(
  path: string,
  keys: Keys,
  checkFile: (file: string, keys: Keys) => Promise<FileTold>,
): Promise<FileTold> {
  const { size } = await stat(path)
  if (size > mostBytes)
    throw new Problem(
      'bundle-too-large',
      `${path} has ${megabytes(size)}; a bundle has at most ${megabytes(mostBytes)}.`,
    )
  const entries = unpackBundle(await readFile(path), path)
  const runs = entries.filter(({ name }) => name.endsWith('.run'))
  if (runs.length === 0) throw new Problem('bundle-invalid', `${path} holds no recording.`)
  const unlisted = listFaults(entries)
  const lines = [
    `${path}: bundle of ${runs.length} ${runs.length === 1 ? 'recording' : 'recordings'}; ${unlisted.length > 0 ? unlisted.join('; ') : `all ${entries.length} files are there, as its list says`}`,
  ]
  const inside = keysIn(entries, path)
  const all: Keys = { ...keys, known: [...keys.known, ...inside] }
  let status = unlisted.length > 0 ? wrong : 0
  // Only recordings are written to disk, under names that were looked at, and no driver of a bundle is ever run.
  const checked: FileTold[] = []
  const folder = await mkdtemp(join(tmpdir(), 'makebreak-bundle-'))
  try {
    for (const { name, bytes } of runs) await writeFile(join(folder, name), bytes, { flag: 'wx' })
    for (const { name } of runs) {
      const file = join(folder, name)
      const told = await checkFile(file, all)
      checked.push(told)
      const more =
        told.wrong === null ? [...(await resultFaults(file, entries)), ...(await driverFaults(file, entries))] : []
      const asNamed = (text: string) => text.replaceAll(file, `${path}, ${name}`)
      const notes = more.map(({ text }) => text).join('; ')
      lines.push(...told.lines.map((line) => [asNamed(line), notes].filter(Boolean).join('; ')))
      if (told.wrong !== null) lines.push(`${path}, ${name}: cannot be read`)
      if (told.status !== 0 || more.some(({ wrong }) => wrong)) status = wrong
    }
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
  const chain = closeChain(checked)
  lines.push(...chain.lines.map((line) => `${path}: ${line}`))
  // One customer's parts are seldom all that a bench tested, so a gap alone makes no bundle wrong.
  if (chain.status !== 0)
    lines.push(`${path}: A bundle may leave recordings of its bench out; ask who made it whether those are meant.`)
  for (const { fingerprint } of inside.filter((key) => !isKnown(keys, key.fingerprint)))
    lines.push(
      `${path}: the key ${shortFingerprint(fingerprint)} came in the bundle itself, so it shows whose it is only by its fingerprint on paper: ${fingerprint}`,
    )
  return { status, lines, wrong: null }
}

const isKnown = ({ given, known }: Keys, fingerprint: string) =>
  [...(given ? [given] : []), ...known].some((key) => key.fingerprint === fingerprint)

function keysIn(entries: readonly Entry[], path: string): Keys['known'] {
  return entries.flatMap(({ name, bytes }) => {
    const found = name.endsWith('.pem') ? readKeyText(Buffer.from(bytes).toString()) : null
    return found === null ? [] : [{ ...found, own: false, file: `${basename(path)}, ${name}` }]
  })
}

/** What is otherwise than the list in the bundle says; empty where nothing is. */
function listFaults(entries: readonly Entry[]): string[] {
  const list = entries.find(({ name }) => name === sumsName)
  if (list === undefined) return [`its list ${sumsName} is missing`]
  const listed = new Map<string, string>()
  for (const line of Buffer.from(list.bytes).toString().split('\n')) {
    const [, digest, name] = /^([0-9a-f]{64}) [ *](.+)$/.exec(line) ?? []
    if (digest !== undefined && name !== undefined) listed.set(name, digest)
    else if (line !== '') return [`its list ${sumsName} is damaged`]
  }
  const others = entries.filter(({ name }) => name !== sumsName)
  return [
    ...others
      .filter(({ name, bytes }) => listed.has(name) && listed.get(name) !== digestOf(bytes))
      .map(({ name }) => `${name} was CHANGED`),
    ...others.filter(({ name }) => !listed.has(name)).map(({ name }) => `${name} is not in its list`),
    ...[...listed.keys()]
      .filter((name) => !others.some((entry) => entry.name === name))
      .map((name) => `${cleanText(name)} is missing`),
    ...(others.some(({ name }) => name === howToName) ? [] : [`${howToName} is missing`]),
  ]
}

type Told = { text: string; wrong: boolean }

/** The result that lies beside the recording, against what comes of the recording today. */
async function resultFaults(file: string, entries: readonly Entry[]): Promise<Told[]> {
  const name = basename(file).replace(/\.run$/, '.json')
  const beside = entries.find((entry) => entry.name === name)
  if (beside === undefined) return [{ text: `its result ${name} is missing`, wrong: true }]
  const stated = verdictIn(beside)
  if (stated === null) return [{ text: `${name} holds no result`, wrong: true }]
  try {
    const drivers = await loadDrivers(userFolders().drivers)
    const run = await foldRecording(file, bindDrivers(drivers))
    const result = ours(() => resultOf(run))
    if (result === null) return []
    const aside = run.setup?.start.simulated ? 'SIMULATED ' : ''
    const now = `${aside}${verdictWords[result.verdict].word}`
    return result.verdict === stated
      ? [{ text: `${name} says ${now}, and so comes out of it today`, wrong: false }]
      : [{ text: `${name} says ${verdictWords[stated].word}, but ${now} comes out of it today`, wrong: true }]
  } catch (error) {
    if (!(error instanceof Problem)) throw error
    return [
      {
        text: `${name} was not worked out again: ${error.message.replaceAll(file, basename(file)).replace(/\.$/, '')}`,
        wrong: false,
      },
    ]
  }
}

function verdictIn({ bytes }: Entry): Verdict | null {
  try {
    const { verdict } = JSON.parse(Buffer.from(bytes).toString()) as { verdict?: unknown }
    return verdicts.find((known) => known === verdict) ?? null
  } catch {
    return null
  }
}

/** The drivers that the recording names, against those in the bundle. */
async function driverFaults(file: string, entries: readonly Entry[]): Promise<Told[]> {
  const start = (await glanceAt(file))?.start
  return Object.entries(start?.drivers ?? {}).map(([id, sha256]) => {
    const found = entries.find(({ name }) => name === `drivers/${id}.mjs`)
    if (found === undefined) return { text: `its driver ${cleanText(id)} is not in the bundle`, wrong: false }
    return digestOf(found.bytes) === sha256
      ? { text: `its driver ${cleanText(id)} is the one that recorded it`, wrong: false }
      : { text: `its driver ${cleanText(id)} is NOT the one that recorded it`, wrong: true }
  })
}
