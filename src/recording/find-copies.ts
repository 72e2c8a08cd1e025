// A recording on disk into the files beside it that hold the same test: what a sync tool copies, or what was recovered.
import { type FileHandle, open, readdir } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { glanceAt } from './glance.ts'

/** `holds`: its bytes against those of the recording; `less` and `more` where the one is the start of the other. */
export type Copy = { name: string; holds: 'same' | 'less' | 'more' | 'other' }

const chunkBytes = 1_048_576
const stemOf = (name: string) => name.replace(/\.run$/, '')

/** Whether a file has such a name as sync tools give to the second of two that they could not bring together (from memory). */
export function isSyncName(name: string): boolean {
  return /conflict/i.test(name) || / \(\d+\)$/.test(stemOf(name))
}

/** Files in the folder of `path` whose names begin alike and whose first lines have the same id; none where it cannot be read. */
export async function findCopies(path: string): Promise<Copy[]> {
  const own = basename(path)
  const stem = stemOf(own)
  const names = await readdir(dirname(path)).catch(() => [])
  const alike = names.filter((name) => {
    const other = stemOf(name)
    return name !== own && name.endsWith('.run') && (other.startsWith(stem) || stem.startsWith(other))
  })
  if (alike.length === 0) return []
  const id = (await glanceAt(path))?.start.id
  const copies: Copy[] = []
  for (const name of alike.toSorted()) {
    const other = join(dirname(path), name)
    if (id === undefined || (await glanceAt(other))?.start.id !== id) continue
    copies.push({ name, holds: await compare(other, path).catch(() => 'other' as const) })
  }
  return copies
}

/** The bytes of `path` against those of `own`. */
async function compare(path: string, own: string): Promise<Copy['holds']> {
  const files = [await open(path, 'r'), await open(own, 'r')] as const
  try {
    for (let offset = 0; ; offset += chunkBytes) {
      const [theirs, ours] = [await chunkOf(files[0], offset), await chunkOf(files[1], offset)]
      const shared = Math.min(theirs.length, ours.length)
      if (!theirs.subarray(0, shared).equals(ours.subarray(0, shared))) return 'other'
      if (theirs.length !== ours.length) return theirs.length < ours.length ? 'less' : 'more'
      if (theirs.length < chunkBytes) return 'same'
    }
  } finally {
    for (const file of files) await file.close()
  }
}

async function chunkOf(file: FileHandle, offset: number): Promise<Buffer> {
  const { buffer, bytesRead } = await file.read(Buffer.alloc(chunkBytes), 0, chunkBytes, offset)
  return buffer.subarray(0, bytesRead)
}
