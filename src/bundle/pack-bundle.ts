// Files into the bytes of one .zip: the same files give the same bytes, on every day and every system.
import { createHash } from 'node:crypto'
import { zipSync } from 'fflate'
import { type Entry, isEntryName, sumsName } from './entry.ts'

/** The earliest day that a .zip can state, in the time of the place, as its format has it. */
const noDay = new Date(1980, 0, 1)

/** `entries` and a list of their digests, as `sha256sum -c` takes it. */
export function packBundle(entries: readonly Entry[]): Uint8Array {
  const all = [...entries, { name: sumsName, bytes: Buffer.from(sumsOf(entries)) }]
  const wrong = all.find(({ name }, i) => !isEntryName(name) || all.findIndex((other) => other.name === name) !== i)
  if (wrong !== undefined) throw new Error(`bundle: ${wrong.name} cannot be in it`)
  return zipSync(Object.fromEntries(all.map(({ name, bytes }) => [name, bytes])), { level: 6, mtime: noDay, os: 3 })
}

export const digestOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex')

const sumsOf = (entries: readonly Entry[]) => entries.map(({ name, bytes }) => `${digestOf(bytes)}  ${name}\n`).join('')
