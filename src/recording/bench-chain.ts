// The recordings of a bench, as they are begun and sealed, into a chain: each names the digest of the one before.
//
// A small folder remembers the last few: one file a recording, numbered. The number after the highest is taken by creating
// its file, which only one of two programs can do; the other goes on to the next and follows the first.
import {
  closeSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  readSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { folderProblem } from '../errors.ts'
import { createWhole } from './create-whole.ts'
import { createReader, type Digests } from './read.ts'

/** A recording that was begun: its file, its digest as far as it is known, and who writes it; null where nobody does any more. */
type Entry = { file: string; digest: string; writer: number | null }

/** The place of a recording in the chain. */
export type ChainLink = {
  /** The digest of the recording before; null where it is the first. */
  previous: string | null
  /** The recording is sealed, and the line of its seal has this digest. */
  sealed(digest: string): void
}

const chunkBytes = 1_048_576
/** So many are remembered: the last counts, those before it are for a recording that is given up at once (shop rule). */
const remembered = 10
/** No program waits so long between its look at the places and the one it takes: a place that is free again would be taken twice, ms (shop rule). */
const keptMs = 3_600_000

/**
 * Takes the next place in the chain of `folder`, which is made where it is missing, for the recording at `file`.
 * `firstLine` gives the digest of its first line, which names what comes before. Throws a Problem where `folder` takes no file.
 */
export function joinChain(folder: string, file: string, firstLine: (previous: string | null) => string): ChainLink {
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 })
    for (;;) {
      const places = placesIn(folder)
      const last = places.at(-1) ?? 0
      const before = last === 0 ? null : readEntry(folder, last)
      // Another program has just given that one up.
      if (before === 'gone') continue
      const previous = before && digestNow(before)
      const entry = { file, digest: firstLine(previous), writer: process.pid }
      if (!createWhole(pathOf(folder, last + 1), JSON.stringify(entry))) continue
      for (const old of places.slice(0, -remembered)) forget(pathOf(folder, old))
      return {
        previous,
        sealed(digest) {
          try {
            writeEntry(pathOf(folder, last + 1), { ...entry, digest, writer: null })
          } catch {
            // The recording is sealed all the same; the next one reads its digest from the file.
          }
        },
      }
    }
  } catch (error) {
    throw folderProblem(error, `The chain of recordings in ${folder} cannot be continued`, folder)
  }
}

/** Deletes an entry that was written long ago; one that another program has just deleted is gone. */
function forget(path: string): void {
  const written = statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? Number.POSITIVE_INFINITY
  if (Date.now() - written > keptMs) rmSync(path, { force: true })
}

/** Takes the recording at `file` out of the chain, where it is the last: it holds nothing and is deleted. */
export function leaveChain(folder: string, file: string): void {
  const last = placesIn(folder).at(-1)
  const entry = last === undefined ? null : readEntry(folder, last)
  if (last !== undefined && entry !== null && entry !== 'gone' && entry.file === file)
    rmSync(pathOf(folder, last), { force: true })
}

/** The digest by which a recording is named that is not written any more: of its seal's line, or of all of its bytes. */
export const digestOf = ({ seal, whole }: Digests): string => seal?.digest ?? whole

/** As digestOf, but of its first line for a recording that is still written, or is not at its path any more. */
function digestNow({ file, digest, writer }: Entry): string {
  if (writer === null || isAlive(writer)) return digest
  const found = readDigests(file)
  return found?.first === digest ? digestOf(found) : digest
}

/** Null where the file is not there, or is no recording. */
function readDigests(file: string): Digests | null {
  let fd: number | null = null
  try {
    fd = openSync(file, 'r')
    const reader = createReader()
    const chunk = Buffer.alloc(chunkBytes)
    for (let length = -1; length !== 0; ) {
      length = readSync(fd, chunk)
      reader.push(chunk.subarray(0, length))
    }
    reader.finish()
    return reader.digests()
  } catch {
    return null
  } finally {
    if (fd !== null) closeSync(fd)
  }
}

/** A process that is not ours to signal lives too. */
function isAlive(pid: number): boolean {
  try {
    return process.kill(pid, 0)
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
}

const pathOf = (folder: string, place: number) => join(folder, `${place}.json`)

/** The places that are taken, in order. */
function placesIn(folder: string): number[] {
  try {
    const taken = readdirSync(folder).flatMap((name) =>
      /^[1-9]\d*\.json$/.test(name) ? [Number.parseInt(name, 10)] : [],
    )
    return taken.sort((a, b) => a - b)
  } catch {
    return []
  }
}

/** Null for what is no entry, as a failing disk leaves it: the chain begins a second time then, and its check says so. */
function readEntry(folder: string, place: number): Entry | null | 'gone' {
  try {
    const { file, digest, writer } = JSON.parse(readFileSync(pathOf(folder, place), 'utf8'))
    const valid = typeof file === 'string' && typeof digest === 'string'
    return valid ? { file, digest, writer: typeof writer === 'number' ? writer : null } : null
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return 'gone'
    if (error instanceof SyntaxError || error instanceof TypeError) return null
    throw error
  }
}

function writeEntry(path: string, entry: Entry): void {
  const whole = `${path}.new`
  writeFileSync(whole, JSON.stringify(entry), { mode: 0o600, flush: true })
  renameSync(whole, path)
}
