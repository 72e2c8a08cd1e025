// A recording into the earlier tests of its part: those in its own folder and in that of the recordings of this computer.
import { readdir } from 'node:fs/promises'
import { dirname, join, resolve } from 'node:path'
import type { StartEvent } from '../core/model/event.ts'
import { type Glance, glanceAt, glanceStart } from '../recording/glance.ts'
import type { EarlierTest } from '../report/model/report-input.ts'
import { userFolders } from '../user-folders.ts'

/** First lines that were read before, by path: recordings of one lot are the earlier tests of each other. */
export type Starts = Map<string, Promise<Glance['start'] | null>>

/** Tests of the same model and serial number that began before this one, oldest first; null without a serial number. */
export async function earlierTests(
  path: string,
  { id, at, part }: StartEvent,
  starts: Starts,
): Promise<EarlierTest[] | null> {
  if (!part.serial) return null
  const found = new Map<string, EarlierTest>()
  for (const other of await recordingsNear(path)) {
    const reading = starts.get(other) ?? glanceStart(other).catch(() => null)
    starts.set(other, reading)
    const start = await reading
    // A copy of this recording is no other test.
    if (start === null || start.id === id || start.at >= at) continue
    if (start.part.serial !== part.serial || start.part.model !== part.model) continue
    const verdict = (await glanceAt(other).catch(() => null))?.verdict ?? null
    found.set(start.id, { at: start.at, verdict, simulated: start.simulated })
  }
  return [...found.values()].sort((a, b) => (a.at < b.at ? -1 : 1))
}

/** Paths of the recordings beside the one at `path`, and of those in the user's own folder. */
async function recordingsNear(path: string): Promise<string[]> {
  const folders = new Set([resolve(dirname(path)), resolve(userFolders().recordings)])
  const lists = await Promise.all(
    [...folders].map(async (folder) => {
      const names = await readdir(folder).catch((): string[] => [])
      return names.filter((name) => name.endsWith('.run')).map((name) => join(folder, name))
    }),
  )
  return lists.flat()
}
