// Events into a growing file: one write a line, synced in the background, sealed at checkpoints.

import { createHash, type Hash } from 'node:crypto'
import { closeSync, fdatasync, fdatasyncSync, fstatSync, openSync, rmSync, writeSync } from 'node:fs'
import { dirname } from 'node:path'
import type { Conditions } from '../core/model/conditions.ts'
import type { RunEvent } from '../core/model/event.ts'
import type { Job } from '../core/model/job.ts'
import type { Part } from '../core/model/part.ts'
import type { Purpose } from '../core/model/purposes.ts'
import type { PortName, Rig } from '../core/model/rig.ts'
import { folderProblem, Problem, writeProblem } from '../errors.ts'
import { whyStrayed } from './file-identity.ts'
import { encodeLine, maxLineBytes } from './format.ts'
import { keptProblem, lostProblem, saveBeside } from './save-beside.ts'
import type { Signer } from './seal-signature.ts'
import { syncFolder } from './sync-folder.ts'

/** What the first line states. `id` is a UUID v7, `at` the wall-clock time as ISO 8601 UTC. */
export type StartFields = {
  id: string
  at: string
  purpose: Purpose
  simulated: boolean
  operator: string | null
  part: Part
  rig: Rig
  conditions: Conditions | null
  software: unknown
  /** The sha256 (hex) of the file of each driver that is a user's own, by its id; left out where there is none. */
  drivers?: Readonly<Record<string, string>>
  /** The id of the recording that this test goes on from, or does once more; at most one of the two. */
  continues?: string
  repeats?: string
  /** The digest of this bench's recording before; left out where there is none, or the bench does not sign. */
  previous?: string
  /** Who it is tested for; left out where nothing is stated. */
  job?: Job
}

export type Recorder = {
  /** Appends one event; when it returns, the system has the bytes. */
  append(event: Exclude<RunEvent, { type: 'start' | 'seal' }>): void
  /** Appends bytes of one port as they came, in as many events as their length needs; none for no bytes. */
  appendBytes(type: 'rx' | 'tx', t: number, port: PortName, bytes: Buffer): void
  /** Whether `event` fits into one line. */
  fits(event: object): boolean
  /** Appends a seal over all that is before it. */
  seal(t: number): void
  /** Appends the last seal, signed; gives the SHA-256 (hex) of its line, which the bench's next recording names. */
  signSeal(signer: Signer): string
  /**
   * Why the path does not lead to all that was written, as the end of a sentence: once astray, always. Null where it
   * does, or where the system cannot tell.
   */
  whyAstray(): string | null
  /** Syncs what is left and closes the file. One that is astray is saved beside its path first, and a Problem says where. */
  close(): void
}

// Under the 250 ms that a power cut may cost, with room for a busy loop.
const syncAfterMs = 200
// Escaped or as base64 no more than 32 KiB, well within one line.
const pieceBytes = 16_384

/** What a recording holds before the next line: whole lines alone. `hash` is over all of their bytes. */
export type Standing = { bytes: number; lines: number; lastT: number; hash: Hash }

/**
 * Creates the recording at `path` (never over an existing file) with its first line. `write` is for tests of a full disk.
 * Throws a Problem where the file cannot be created or written, and leaves none then; once a later write has failed, all
 * that follow fail alike.
 */
export function createRecording(path: string, start: StartFields, write: typeof writeSync = writeSync): Recorder {
  const first = firstLine(start)
  const fd = create(path)
  const hash = createHash('sha256').update(first)
  try {
    writeAll(fd, first, write)
  } catch (error) {
    closeSync(fd)
    // It holds no event: an empty file would only be in the way.
    rmSync(path, { force: true })
    throw writeProblem(path, error)
  }
  syncFolder(dirname(path))
  return recorderOn(fd, path, { bytes: first.length, lines: 1, lastT: 0, hash }, write)
}

const firstLine = (start: StartFields) => checkedLine({ type: 'start', format: 1, ...start })

/** The SHA-256 (hex) of the first line that a recording with such a start has. */
export const firstLineDigest = (start: StartFields): string =>
  createHash('sha256').update(firstLine(start)).digest('hex')

/** Goes on with the recording at `path`, which `fd` leads to and which ends after `standing`. */
export function recorderOn(
  fd: number,
  path: string,
  standing: Standing,
  write: typeof writeSync = writeSync,
): Recorder {
  const own = fstatSync(fd, { bigint: true })
  let { bytes, lines, lastT } = standing
  const { hash } = standing
  let astray: string | null = null
  let failure: Problem | null = null
  let timer: NodeJS.Timeout | null = null
  let syncing = false
  let dirty = true
  let closed = false

  /** Appends the line of `event`; gives its bytes. */
  function put(event: object, t: number): Buffer {
    if (failure) throw failure
    if (t < lastT) throw new Error(`recording: t ${t} us is less than ${lastT} us before it`)
    const line = checkedLine(event)
    try {
      writeAll(fd, line, write, (written) => {
        bytes += written
      })
    } catch (error) {
      failure = writeProblem(path, error)
      throw failure
    }
    hash.update(line)
    lines++
    lastT = t
    dirty = true
    timer ??= setTimeout(sync, syncAfterMs)
    return line
  }

  /** Starts a sync unless one is under way; then the next follows it. */
  function sync(): void {
    if (timer) clearTimeout(timer)
    timer = null
    if (syncing || !dirty || closed) return
    dirty = false
    syncing = true
    fdatasync(fd, (error) => {
      syncing = false
      // A closed file was synced as it was closed; an error shows at the next append, a tick away at most.
      if (closed) return
      if (error) failure = writeProblem(path, error)
      else if (dirty) timer ??= setTimeout(sync, syncAfterMs)
    })
  }

  /** Saves what the descriptor still leads to; says where, and whether it is all that was written. */
  function saved(why: string): Problem {
    try {
      const { file, sha256 } = saveBeside(fd, path)
      return keptProblem(path, why, file, sha256 === hash.copy().digest('hex'))
    } catch (error) {
      return lostProblem(path, why, error)
    }
  }

  const recorder: Recorder = {
    append(event) {
      put(event, event.t)
      if (event.type === 'mark') sync()
    },
    appendBytes(type, t, port, bytes) {
      for (let from = 0; from < bytes.length; from += pieceBytes)
        put({ type, t, port, ...pack(bytes.subarray(from, from + pieceBytes)) }, t)
    },
    fits: (event) => encodeLine(event).length <= maxLineBytes,
    seal(t) {
      put({ type: 'seal', t, lines, sha256: hash.copy().digest('hex') }, t)
    },
    signSeal(signer) {
      const seal = { lines, sha256: hash.copy().digest('hex') }
      // A time of its own would be the one thing in it that nothing holds.
      const line = put({ type: 'seal', t: lastT, ...seal, key: signer.key, sig: signer.sign(seal) }, lastT)
      return createHash('sha256').update(line).digest('hex')
    },
    whyAstray() {
      const { size } = fstatSync(fd)
      astray ??= size < bytes ? `was cut to ${size} of ${bytes} bytes during the test` : whyStrayed(path, own)
      return astray
    },
    close() {
      if (closed) return
      closed = true
      if (timer) clearTimeout(timer)
      try {
        const why = recorder.whyAstray()
        if (why !== null) throw saved(why)
        if (failure === null) fdatasyncSync(fd)
      } catch (error) {
        throw error instanceof Problem ? error : writeProblem(path, error)
      } finally {
        closeSync(fd)
      }
    },
  }
  timer = setTimeout(sync, syncAfterMs)
  return recorder
}

/** Writes the whole line, where the system wrote short the rest after it; `onWritten` hears how many bytes each time. */
function writeAll(fd: number, line: Buffer, write: typeof writeSync, onWritten?: (bytes: number) => void): void {
  for (let done = 0; done < line.length; ) {
    const written = write(fd, line, done)
    done += written
    onWritten?.(written)
  }
}

function checkedLine(event: object): Buffer {
  const line = encodeLine(event)
  if (line.length <= maxLineBytes) return line
  throw new Problem(
    'line-too-long',
    `An event of ${line.length} bytes was to be recorded; one line holds at most ${maxLineBytes}.`,
  )
}

/** Bytes as the field that holds them in `rx` and `tx`. */
function pack(bytes: Buffer): { text: string } | { b64: string } {
  const text = bytes.toString('latin1')
  return /^[\x20-\x7e\t\r\n]*$/.test(text) ? { text } : { b64: bytes.toString('base64') }
}

function create(path: string): number {
  try {
    return openSync(path, 'ax+')
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code
    if (code === 'EEXIST') throw new Problem('recording-exists', `The recording ${path} is already there.`)
    throw folderProblem(error, `The recording ${path} cannot be created`, path)
  }
}
