// A recording whose process died into a sealed one: a torn tail cut off, `end` and `seal` appended where they are missing.
import { createHash } from 'node:crypto'
import { closeSync, constants, ftruncateSync, openSync, readSync } from 'node:fs'
import type { EndReason, RecordedEvent } from '../core/model/event.ts'
import { Problem } from '../errors.ts'
import { recorderOn, type Standing } from './append.ts'
import { createReader } from './read.ts'

const chunkBytes = 1_048_576
const lineFeed = 10

/**
 * Finishes the recording of the test `id` at `path`, which nobody writes any more. Gives how the test ended: as was recorded,
 * else as abandoned. Throws a Problem where the file is not that of the test, or cannot be written.
 */
export function finishRecording(path: string, id: string): EndReason {
  const fd = openSync(path, constants.O_RDWR | constants.O_APPEND)
  let open = true
  try {
    const { standing, first, end, last } = readStanding(fd)
    if (first?.type !== 'start' || first.id !== id)
      throw new Problem('recording-lost', `The recording ${path} is that of another test.`)
    if (end !== null && last?.type === 'seal' && last.matches) return end
    ftruncateSync(fd, standing.bytes)
    const t = standing.lastT
    const recorder = recorderOn(fd, path, standing)
    open = false
    try {
      if (end === null) recorder.append({ type: 'end', t, reason: 'abandoned' })
      recorder.seal(t)
    } finally {
      recorder.close()
    }
    return end ?? 'abandoned'
  } finally {
    if (open) closeSync(fd)
  }
}

type Found = {
  standing: Standing
  first: RecordedEvent | undefined
  end: EndReason | null
  last: RecordedEvent | undefined
}

/** All whole lines of the file that `fd` leads to. */
function readStanding(fd: number): Found {
  const standing: Standing = { bytes: 0, lines: 0, lastT: 0, hash: createHash('sha256') }
  const found: Found = { standing, first: undefined, end: null, last: undefined }
  const reader = createReader()
  const chunk = Buffer.alloc(chunkBytes)
  let rest = Buffer.alloc(0)
  for (let offset = 0; ; ) {
    const length = readSync(fd, chunk, 0, chunk.length, offset)
    if (length === 0) return found
    offset += length
    const bytes = chunk.subarray(0, length)
    for (const event of reader.push(bytes)) {
      found.first ??= event
      found.last = event
      if (event.type === 'end') found.end ??= event.reason
      if ('t' in event && typeof event.t === 'number') standing.lastT = event.t
    }
    const data = Buffer.concat([rest, bytes])
    const whole = data.subarray(0, data.lastIndexOf(lineFeed) + 1)
    standing.hash.update(whole)
    standing.bytes += whole.length
    for (let at = whole.indexOf(lineFeed); at >= 0; at = whole.indexOf(lineFeed, at + 1)) standing.lines++
    rest = Buffer.from(data.subarray(whole.length))
  }
}
