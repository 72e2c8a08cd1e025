// A version into arguments that make Node say it is that one: only the process they are given to, not the one it starts.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'

/** Writes what is needed into `folder`. */
export function pretendNode(folder: string, version: string): string[] {
  const file = join(folder, `node-${version}.mjs`)
  const versions = `{ ...process.versions, node: '${version}' }`
  writeFileSync(
    file,
    `Object.defineProperty(process, 'versions', { value: ${versions} })
Object.defineProperty(process, 'version', { value: 'v${version}' })\n`,
  )
  // As an address: on Windows a path with a drive is none.
  return ['--import', pathToFileURL(file).href]
}

/** The pinned Node comes as a package for these platforms only; elsewhere Node 24 is installed by hand. */
export const hasPinned = ['linux-x64', 'linux-arm64', 'win32-x64'].includes(`${process.platform}-${process.arch}`)
