// A recording while it grows into batches of events, woken by whoever hears that there is more.
import { open } from 'node:fs/promises'
import type { RecordedEvent } from '../core/model/event.ts'
import { type Reader, readBatches } from './batches.ts'

/** What the one who hears of the recording process says. */
export type Growth = {
  /** The file is there and has more. */
  grew(): void
  /** Nothing more will come. */
  ended(): void
}

export type FollowedFile = Growth & {
  /** What has been recorded, in order, until `ended` was said and the file is read to its end. */
  batches: AsyncIterable<RecordedEvent[]>
  /** Device and inode of the file that `batches` reads; null until it is open. */
  followed(): { dev: bigint; ino: bigint } | null
}

/** Follows the recording at `path`, which may not be there yet; `reader` is a fresh one. */
export function followFile(path: string, reader: Reader): FollowedFile {
  let begun = false
  let grown = false
  let over = false
  let lastRead = false
  let identity: ReturnType<FollowedFile['followed']> = null
  let wake = () => {}

  /** Resolves when there may be more to read: true once for each growth and once after the end, then false. */
  async function more(): Promise<boolean> {
    if (!grown && !over)
      await new Promise<void>((resolve) => {
        wake = resolve
      })
    if (over) {
      if (lastRead) return false
      lastRead = true
    }
    grown = false
    return true
  }
  async function* batches(): AsyncGenerator<RecordedEvent[]> {
    while (!begun) if (!(await more())) return
    // A file that is gone already is told by the process that wrote it.
    const file = await open(path, 'r').catch(() => null)
    if (file === null) return
    identity = await file.stat({ bigint: true })
    yield* readBatches(file, reader, more)
  }

  return {
    grew() {
      begun = true
      grown = true
      wake()
    },
    ended() {
      over = true
      wake()
    },
    batches: batches(),
    followed: () => identity,
  }
}
