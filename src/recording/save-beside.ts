// An open recording whose path no longer leads to it, into a new file beside that path.
import { createHash } from 'node:crypto'
import { closeSync, fsyncSync, mkdirSync, openSync, readSync, rmSync, writeSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, parse } from 'node:path'
import { Problem } from '../errors.ts'
import { syncFolder } from './sync-folder.ts'

const chunkBytes = 1_048_576

type Saved = { file: string; sha256: string }

/**
 * Copies all that `fd` holds to `NAME-recovered.run` (`-recovered-2`, … where that is taken) in the folder of `path`, which
 * is made where it is gone, or in the system's folder for temporary files where that fails. Gives the new path and the
 * SHA-256 of the bytes. Throws what the system said where neither takes it.
 */
export function saveBeside(fd: number, path: string): Saved {
  const { dir, name, ext } = parse(path)
  const named = (folder: string) => (suffix: string) => join(folder, `${name}-recovered${suffix}${ext}`)
  try {
    return copyInto(dir, fd, named(dir))
  } catch (error) {
    try {
      return copyInto(tmpdir(), fd, named(tmpdir()))
    } catch {
      throw error
    }
  }
}

function copyInto(folder: string, fd: number, named: (suffix: string) => string): Saved {
  mkdirSync(folder, { recursive: true })
  const { file, copy } = createNew(named)
  try {
    const sha256 = copyAll(fd, copy)
    fsyncSync(copy)
    syncFolder(folder)
    return { file, sha256 }
  } catch (error) {
    // Half a copy would be taken for the recording.
    rmSync(file, { force: true })
    throw error
  } finally {
    closeSync(copy)
  }
}

/** That the recording at `path` is astray, `why` as the end of a sentence; all of it or what is left is kept in `file`. */
export function keptProblem(path: string, why: string, file: string, whole: boolean): Problem {
  const kept = `${whole ? 'all' : 'what is left'} of it is kept in ${file}`
  return new Problem('recording-astray', `The recording ${path} ${why}; ${kept}.`)
}

/** That it is astray and no copy was saved; `error` is what the system said. */
export function lostProblem(path: string, why: string, error?: unknown): Problem {
  const code = (error as NodeJS.ErrnoException | undefined)?.code
  const said = code === undefined ? '' : ` (${code})`
  return new Problem('recording-lost', `The recording ${path} ${why}, and no copy could be saved${said}.`)
}

/** A file of a name that is not taken yet. */
function createNew(named: (suffix: string) => string): { file: string; copy: number } {
  for (let n = 1; ; n++) {
    const file = named(n === 1 ? '' : `-${n}`)
    try {
      return { file, copy: openSync(file, 'wx') }
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error
    }
  }
}

function copyAll(from: number, to: number): string {
  const hash = createHash('sha256')
  const chunk = Buffer.alloc(chunkBytes)
  for (let offset = 0; ; ) {
    const length = readSync(from, chunk, 0, chunk.length, offset)
    if (length === 0) return hash.digest('hex')
    for (let done = 0; done < length; ) done += writeSync(to, chunk, done, length - done)
    hash.update(chunk.subarray(0, length))
    offset += length
  }
}
