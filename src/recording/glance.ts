// A recording on disk into what its ends alone tell: its first line, how it ended, and the verdict that was recorded. Nothing is checked but their CRC.
import { type FileHandle, open } from 'node:fs/promises'
import { type EndReason, parseEvent, type RunEvent, type StartEvent } from '../core/model/event.ts'
import { type Verdict, verdicts } from '../core/model/result.ts'
import { decodeLine, maxLineBytes } from './format.ts'

export type Glance = { start: StartEvent; end: EndReason | null; verdict: Verdict | null }

/** Null where the first line is none of a recording; `end` and `verdict` null where none is near the end of the file. */
export async function glanceAt(path: string): Promise<Glance | null> {
  const file = await open(path, 'r').catch(() => null)
  if (file === null) return null
  try {
    const { size } = await file.stat()
    const [first] = eventsIn(await bytesAt(file, 0, maxLineBytes))
    if (first?.type !== 'start') return null
    // The end is followed by the verdict and its seal alone.
    const reach = Math.min(size, 2 * maxLineBytes)
    const last = eventsIn(await bytesAt(file, size - reach, reach))
    const end = last.findLast((event) => event.type === 'end')
    const verdict = last.findLast((event) => event.type === 'verdict')
    const said = (verdict?.result as { verdict?: unknown } | null | undefined)?.verdict
    return { start: first, end: end?.reason ?? null, verdict: verdicts.find((known) => known === said) ?? null }
  } finally {
    await file.close()
  }
}

/** Most first lines are shorter. */
const usualBytes = 8192

/** The first line alone, which costs a small read; null where it is none of a recording. */
export async function glanceStart(path: string): Promise<StartEvent | null> {
  const file = await open(path, 'r').catch(() => null)
  if (file === null) return null
  try {
    let bytes = await bytesAt(file, 0, usualBytes)
    if (!bytes.includes(10)) bytes = await bytesAt(file, 0, maxLineBytes)
    const [first] = eventsIn(bytes.subarray(0, bytes.indexOf(10) + 1))
    return first?.type === 'start' ? first : null
  } finally {
    await file.close()
  }
}

async function bytesAt(file: FileHandle, offset: number, length: number): Promise<Buffer> {
  const { buffer, bytesRead } = await file.read(Buffer.alloc(length), 0, length, offset)
  return buffer.subarray(0, bytesRead)
}

/** The events of the whole lines in a stretch of a file. */
function eventsIn(bytes: Buffer): RunEvent[] {
  const events: RunEvent[] = []
  let from = 0
  for (let to = bytes.indexOf(10); to >= 0; to = bytes.indexOf(10, from)) {
    const decoded = decodeLine(bytes.subarray(from, to))
    from = to + 1
    if ('why' in decoded) continue
    const parsed = parseEvent(decoded.json)
    if ('event' in parsed) events.push(parsed.event)
  }
  return events
}
