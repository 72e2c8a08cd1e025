// The bytes of a .zip from anywhere into its files; one with a path trick in it, or too large, into the reason why not.
import { type UnzipFileInfo, unzipSync } from 'fflate'
import { Problem } from '../errors.ts'
import { type Entry, isEntryName, megabytes, mostBytes, mostEntries } from './entry.ts'

/** Throws a Problem that names `path`, before anything is unpacked. */
export function unpackBundle(bytes: Uint8Array, path: string): Entry[] {
  const seen = new Set<string>()
  let whole = 0
  const look = ({ name, originalSize }: UnzipFileInfo) => {
    if (!isEntryName(name))
      throw new Problem('bundle-unsafe', `${path} holds a file "${shown(name)}", which a bundle cannot hold.`)
    // Where capitals count for nothing one would take the place of the other.
    if (seen.has(name.toLowerCase())) throw new Problem('bundle-unsafe', `${path} holds "${name}" twice.`)
    seen.add(name.toLowerCase())
    if (seen.size > mostEntries)
      throw new Problem('bundle-too-large', `${path} holds more than ${mostEntries} files, the most of a bundle.`)
    whole += originalSize
    if (!(whole <= mostBytes))
      throw new Problem(
        'bundle-too-large',
        `${path} comes to more than ${megabytes(mostBytes)} unpacked, the most of a bundle.`,
      )
    return false
  }
  reading(path, () => unzipSync(bytes, { filter: look }))
  return Object.entries(reading(path, () => unzipSync(bytes))).map(([name, content]) => ({ name, bytes: content }))
}

function reading<T>(path: string, action: () => T): T {
  try {
    return action()
  } catch (error) {
    if (error instanceof Problem) throw error
    throw new Problem('bundle-invalid', `${path} cannot be read as a .zip: ${(error as Error).message}.`)
  }
}

const mostChars = 80
const shown = (name: string) => (name.length > mostChars ? `${name.slice(0, mostChars)}…` : name)
