// A recording on disk into batches of events, from its first byte to its last; whoever knows says when more has come.
import type { FileHandle } from 'node:fs/promises'
import type { RecordedEvent } from '../core/model/event.ts'

/** What is needed of a reader of recordings. */
export type Reader = { push(bytes: Buffer): RecordedEvent[]; finish(): RecordedEvent[] }

/** No more: each byte may be the end of a line, and so an event. */
const chunkBytes = 65_536

/**
 * The events of `file`, which is closed at the end. `more` resolves true when the file may have grown and false when
 * nothing more will come. No batch is empty; an empty file is the reader's affair.
 */
export async function* readBatches(
  file: FileHandle,
  reader: Reader,
  more: () => Promise<boolean>,
): AsyncGenerator<RecordedEvent[]> {
  const chunk = Buffer.alloc(chunkBytes)
  try {
    for (let offset = 0; ; ) {
      const { bytesRead } = await file.read(chunk, 0, chunk.length, offset)
      offset += bytesRead
      if (bytesRead === 0 && !(await more())) break
      const events = reader.push(chunk.subarray(0, bytesRead))
      if (events.length > 0) yield events
    }
    const last = reader.finish()
    if (last.length > 0) yield last
  } finally {
    await file.close()
  }
}
