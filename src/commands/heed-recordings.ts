// The recordings that begin in a folder into what a simulated hand is told: it reads the marks, as somebody reads the screen.
import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import type { StartEvent } from '../core/model/event.ts'
import type { MarkName } from '../core/model/marks.ts'
import { createReader } from '../recording/read.ts'
import { followFile } from '../source/follow-file.ts'

export type Heeding = {
  /** Whether a recording is of this bench. */
  isMine(start: StartEvent): boolean
  /** One of them has begun. */
  begun(): void
  told(mark: MarkName): void
}

/** As often as a hand looks at the screen or somewhat more often, ms. */
const lookEveryMs = 100

/** Follows each recording that begins in `folder` from now on, to its end; gives what stops that. A folder need not be there yet. */
export function heedRecordings(folder: string, { isMine, begun, told }: Heeding): () => void {
  const known = new Set(recordingsIn(folder))
  const growing = new Set<() => void>()
  const looks = setInterval(() => {
    for (const name of recordingsIn(folder)) {
      if (known.has(name)) continue
      known.add(name)
      void heed(join(folder, name))
    }
    for (const grew of growing) grew()
  }, lookEveryMs)

  async function heed(file: string): Promise<void> {
    const { batches, grew, ended } = followFile(file, createReader())
    growing.add(grew)
    grew()
    try {
      for await (const batch of batches)
        for (const event of batch) {
          if (event.type === 'start' && !isMine(event)) return
          if (event.type === 'start') begun()
          else if (event.type === 'mark') told(event.mark)
          else if (event.type === 'end') return
        }
    } finally {
      growing.delete(grew)
      ended()
    }
  }

  return () => clearInterval(looks)
}

function recordingsIn(folder: string): string[] {
  try {
    return readdirSync(folder).filter((name) => name.endsWith('.run'))
  } catch {
    return []
  }
}
