// A finished recording into batches of events.
import { type FileHandle, open } from 'node:fs/promises'
import type { RecordedEvent } from '../core/model/event.ts'
import { Problem } from '../errors.ts'
import { type Reader, readBatches } from './batches.ts'

/** The events of the recording at `path` in order. Throws a Problem where it cannot be opened or `reader` refuses it. */
export async function* replay(path: string, reader: Reader): AsyncGenerator<RecordedEvent[]> {
  const file = await openFile(path)
  yield* readBatches(file, reader, async () => false)
}

async function openFile(path: string): Promise<FileHandle> {
  try {
    const file = await open(path, 'r')
    if ((await file.stat()).isFile()) return file
    await file.close()
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code
    if (code === 'ENOENT') throw new Problem('file-missing', `File ${path} not found.`)
    throw new Problem('file-unreadable', `The file ${path} cannot be read (${code ?? 'unknown error'}).`)
  }
  throw new Problem('file-unreadable', `${path} is not a file.`)
}
