// What was typed or scanned where a serial number is asked for into the recording that it names: by the code of a tag, or by the number of a report.
import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { codeSerial, parseTagCode, type TagCode } from '../core/text/tag-code.ts'
import { Problem } from '../errors.ts'
import { findNumbered, lastNumbered } from '../numbers/number-of.ts'
import { type Glance, glanceAt } from '../recording/glance.ts'

export type Tagged = {
  path: string
  glance: Glance
  number: string | null
  /** What the tag warns of; null for that of a pass, and for a number that was typed. */
  standing: string | null
  /** The number of the report that took the place of this one; null where none did. */
  later: string | null
}

type Folders = { recordings: string; numbers: string }
/** What is known of the recording looked for; null is not known. */
type Wanted = { digest: string; id: string | null; serial: string | null }

/**
 * Null for a text that is neither tag nor number, so that it is a serial number. Throws a Problem for one that no recording
 * here belongs to.
 */
export async function findTagged(text: string, { recordings, numbers }: Folders): Promise<Tagged | null> {
  const code = parseTagCode(text)
  const numbered = findNumbered(numbers, code?.number ?? text)
  if (code === null && numbered === null) {
    if (!numberForm.test(text.trim())) return null
    throw new Problem('tag-unknown', `No report of the number ${text.trim()} was written here.`)
  }
  if (code && numbered && !numbered.recordingDigest.startsWith(code.digest))
    throw new Problem(
      'tag-unknown',
      `The number ${numbered.number} belongs to another recording than the rest of this code.`,
    )
  const found = await findRecording(recordings, {
    digest: numbered?.recordingDigest ?? code!.digest,
    id: numbered?.recordingId ?? null,
    serial: code?.serial ?? null,
  })
  if (found !== null) {
    const last = numbered && lastNumbered(numbers, numbered.recordingDigest)
    return {
      ...found,
      number: numbered?.number ?? code!.number,
      standing: code?.standing ?? null,
      later: last === null || last.number === numbered?.number ? null : last.number,
    }
  }
  // Sixteen such digits may be a serial number too.
  if (code && isBare(code)) return null
  throw new Problem('tag-unknown', `No recording in ${recordings} belongs to ${numbered?.number ?? 'the tag'}.`)
}

/** As it is printed: no serial number is written like this. */
const numberForm = /^[0-9A-F]{4} 20\d\d \d{4,9}$/i

const isBare = ({ number, standing, serial }: TagCode) => number === null && standing === null && serial === null

/** The newest that its first line does not rule out and whose bytes have the digest. */
async function findRecording(
  folder: string,
  { digest, id, serial }: Wanted,
): Promise<Pick<Tagged, 'path' | 'glance'> | null> {
  const files = await readdir(folder).catch(() => [])
  for (const name of files
    .filter((file) => file.endsWith('.run'))
    .sort()
    .reverse()) {
    const path = join(folder, name)
    const glance = await glanceAt(path).catch(() => null)
    if (glance === null) continue
    const { start } = glance
    if (id !== null && start.id !== id) continue
    if (serial !== null && codeSerial(start.part.serial ?? null) !== serial) continue
    if ((await fileDigest(path)).startsWith(digest)) return { path, glance }
  }
  return null
}

async function fileDigest(path: string): Promise<string> {
  const hash = createHash('sha256')
  for await (const piece of createReadStream(path)) hash.update(piece)
  return hash.digest('hex')
}
