// Recordings of other versions of this program into the verdicts that would change: worked out in the background, told once.
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Verdict } from '../../core/model/result.ts'
import type { UserFolders } from '../../user-folders.ts'

/** A recorded verdict and what the program says today. */
export type ChangedVerdict = { name: string; was: Verdict; now: Verdict }

export type Review = {
  /** Works on, newest first, until `stop`; what is known already stays known. `onDone`: all are worked out, and some change. */
  start(onDone: (changed: readonly ChangedVerdict[]) => void): Promise<void>
  stop(): void
  /** Those found so far that were not told; from now on they are. */
  toTell(): { changed: readonly ChangedVerdict[]; done: boolean } | null
}

/** Names the version whose changes were told, in the cache folder: where it is lost they are told again. */
const toldFile = 'verdicts-told'

/** The review of the recordings in `folders` for this `version` of the program. */
export function createReview(folders: Pick<UserFolders, 'recordings' | 'drivers' | 'cache'>, version: string): Review {
  const changed: ChangedVerdict[] = []
  const known = new Set<string>()
  let done = false
  let told = 0
  let running: AbortController | null = null

  /** Resolves once all are worked out, or `stop` was asked for. */
  async function work(stop: AbortSignal): Promise<void> {
    if ((await readFile(join(folders.cache, toldFile), 'utf8').catch(() => '')) === version) return
    const names = (await readdir(folders.recordings).catch(() => [])).filter((name) => name.endsWith('.run'))
    const others = await recordedByOthers(names.sort().reverse(), stop)
    if (others.length > 0) await compare(others, stop)
    if (stop.aborted) return
    done = true
    if (changed.length === told) await markTold()
  }

  async function recordedByOthers(names: readonly string[], stop: AbortSignal) {
    const others: { name: string; was: Verdict }[] = []
    if (names.length === 0) return others
    const { glanceAt } = await import('../../recording/glance.ts')
    for (const name of names) {
      if (stop.aborted) return []
      const glance = known.has(name) ? null : await glanceAt(join(folders.recordings, name)).catch(() => null)
      const { software } = glance?.start ?? {}
      if (typeof software === 'string' && software !== `makebreak ${version}` && glance?.verdict)
        others.push({ name, was: glance.verdict })
    }
    return others
  }

  async function compare(others: readonly { name: string; was: Verdict }[], stop: AbortSignal): Promise<void> {
    const { forPlay, startFold } = await import('../../fold/start-fold.ts')
    const { userDriverIds } = await import('../../load-drivers.ts')
    const fold = startFold(userDriverIds(folders.drivers), forPlay)
    stop.addEventListener('abort', () => fold.stop())
    try {
      for (const { name, was } of others) {
        // One that cannot be read any more says so in the list of recordings.
        const now = await verdictNow(fold, name).catch(() => null)
        if (stop.aborted) return
        known.add(name)
        if (now !== null && now !== was) changed.push({ name, was, now })
      }
    } finally {
      fold.stop()
    }
  }

  async function verdictNow(fold: import('../../fold/start-fold.ts').Fold, name: string): Promise<Verdict> {
    const { told } = await fold.ask('judge', { path: join(folders.recordings, name), folder: folders.drivers })
    return told.result.verdict
  }

  /** A cache that cannot be written costs only that it is told again. */
  async function markTold(): Promise<void> {
    await mkdir(folders.cache, { recursive: true }).catch(() => {})
    await writeFile(join(folders.cache, toldFile), version).catch(() => {})
  }

  return {
    async start(onDone) {
      if (done) return
      running = new AbortController()
      await work(running.signal)
      if (done && changed.length > told) onDone(changed)
    },
    stop: () => running?.abort(),
    toTell() {
      if (changed.length === told) return null
      told = changed.length
      if (done) void markTold()
      return { changed, done }
    },
  }
}
