// The files that hold the same test as a recording into a note on each, without its full stop.
import { basename } from 'node:path'
import { type Copy, findCopies, isSyncName } from '../recording/find-copies.ts'
import { cleanText } from '../terminal/text/text.ts'

const holdsText: Record<Copy['holds'], string> = {
  same: 'byte for byte the same',
  less: 'it holds only the start of this file',
  more: 'this file holds only the start of it',
  other: 'with other bytes',
}

/** Notes on the copies that lie beside the recording at `path`; none where there is none. */
export async function copiesText(path: string): Promise<string[]> {
  const isCopy = isSyncName(basename(path))
  return (await findCopies(path)).map(({ name, holds }) => {
    const other = cleanText(name)
    if (isCopy) return `a sync tool's copy of the same test as ${other} beside it, ${holdsText[holds]}`
    const what = isSyncName(name) ? "a sync tool's copy of the same test" : 'the same test'
    return `${other} beside it is ${what}, ${holdsText[holds]}`
  })
}
