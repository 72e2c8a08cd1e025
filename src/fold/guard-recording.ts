// The recording that is followed, held against the file at its path: at each tick, and once more before a verdict is given.
import { closeSync, fstatSync, openSync } from 'node:fs'
import { type Run, step } from '../core/intake/run.ts'
import type { RecordedEvent } from '../core/model/event.ts'
import { Problem } from '../errors.ts'
import { type FileIdentity, sameFile, whyStrayed } from '../recording/file-identity.ts'
import { createReader } from '../recording/read.ts'
import { keptProblem, lostProblem, saveBeside } from '../recording/save-beside.ts'
import type { Acquiring, AcquisitionPlan } from '../source/acquire.ts'
import type { FollowedFile } from '../source/follow-file.ts'
import { replay } from '../source/replay.ts'

export type Guard = {
  /** Looks whether the path still leads to what is followed, once for each tick; gives the test up where it does not. */
  look(run: Run): void
  /**
   * Null where the path leads to what was followed, and a sealed `run` can be read from there again up to that seal; else
   * what is wrong, and where a copy is. What was wrong at an earlier look stays so.
   */
  confirm(run: Run): Promise<Problem | null>
  /** Lets go of the file. */
  close(): void
}

const tickUs = 250_000

/** The guard of the recording that `plan` asked for. */
export function createGuard(
  { file, start }: AcquisitionPlan,
  { followed, finish }: Pick<FollowedFile, 'followed'> & Pick<Acquiring, 'finish'>,
): Guard {
  let why: string | null = null
  let lookedUs = Number.NEGATIVE_INFINITY
  /** Kept open: once the recording process is gone, nothing else leads to a file that is deleted. */
  let held: number | null = null

  function whyNow({ setup }: Run): string | null {
    if (setup !== null && setup.start.id !== start.id) return 'is that of another test'
    const own = followed()
    if (own === null) return null
    held ??= openSame(file, own)
    return whyStrayed(file, own)
  }

  async function save(why: string): Promise<Problem> {
    try {
      if (held === null) return lostProblem(file, why)
      const copy = saveBeside(held, file).file
      return keptProblem(file, why, copy, (await whyUnsealed(copy, start.id)) === null)
    } catch (error) {
      return lostProblem(file, why, error)
    }
  }

  return {
    look(run) {
      if (why !== null || run.tUs - lookedUs < tickUs) return
      lookedUs = run.tUs
      why = whyNow(run)
      if (why !== null) finish('abandoned')
    },
    async confirm(run) {
      why ??= whyNow(run)
      if (run.damage.seal === 'intact') why ??= await whyUnsealed(file, start.id)
      why ??= whyNow(run)
      return why === null ? null : save(why)
    },
    close() {
      if (held !== null) closeSync(held)
      held = null
    },
  }
}

/** A descriptor of the file at `path`, where that is `own`. */
function openSame(path: string, own: FileIdentity): number | null {
  if (whyStrayed(path, own) !== null) return null
  try {
    const fd = openSync(path, 'r')
    if (sameFile(fstatSync(fd, { bigint: true }), own)) return fd
    closeSync(fd)
  } catch {
    // The next look says what is wrong with it.
  }
  return null
}

/** Why the recording at `path` is not that of the test `id` up to a seal that holds; null where it is. */
async function whyUnsealed(path: string, id: string): Promise<string | null> {
  let first: RecordedEvent | undefined
  let last: RecordedEvent | undefined
  try {
    for await (const batch of replay(path, createReader())) {
      first ??= batch[0]
      last = batch.at(-1)
    }
  } catch (error) {
    if (error instanceof Problem) return `cannot be read again: ${error.message.replace(/\.$/, '')}`
    throw error
  }
  if (first?.type !== 'start' || first.id !== id) return 'is that of another test'
  return last?.type === 'seal' && last.matches ? null : 'does not end with its seal'
}

/** `run` as long as nobody knows whether the file at its path is sealed: no seal, so that it passes nothing. */
export function unsealed(run: Run): Run {
  return run.damage.seal === 'intact' ? { ...run, damage: { ...run.damage, seal: 'missing' } } : run
}

/** `run` where its recording is astray: it has ended, as given up where nothing else was read, and has no seal. */
export function unproven(run: Run): Run {
  return unsealed(run.end === null ? step(run, { type: 'end', t: run.tUs, reason: 'abandoned' }) : run)
}
