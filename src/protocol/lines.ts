// Bytes as they come into whole lines, and lines into readings: split anywhere they give the same, and memory is bounded on any noise.
import type { Decoded, Fault, Reading } from '../core/model/reading.ts'
import { faultOf, type Measured } from './measured.ts'

/** What is kept between chunks: the unfinished line, whether its beginning was seen, and whether it grew too long. */
export type LineMemory = { rest: string; whole: boolean; overlong: boolean }

/** A whole line: its text without the end, and the bytes it took on the wire with its end. Null: a line too long to keep. */
export type Line = { text: string; frameBytes: number } | null

const ends = { lf: '\n', cr: '\r' } as const

/**
 * The lines that `chunk` (latin1, one char a byte) finishes after what `memory` holds; CRLF ends a line in both kinds.
 * The first line after a connection (`memory` null) may be the tail of a longer one, with digits that look right, so it
 * is never handed out. A line longer than `maxFrameBytes`, its end included, is reported once, at the byte where it
 * becomes too long. An empty chunk gives no lines and the same memory.
 */
export function splitLines(
  memory: LineMemory | null,
  chunk: string,
  end: 'lf' | 'cr',
  maxFrameBytes: number,
): { lines: Line[]; memory: LineMemory } {
  let { rest, whole, overlong } = memory ?? { rest: '', whole: false, overlong: false }
  const lines: Line[] = []
  let from = 0
  while (from < chunk.length) {
    const at = chunk.indexOf(ends[end], from)
    const to = at < 0 ? chunk.length : at + 1
    if (!overlong) {
      // One char more than the limit is enough to tell, so no more than that is ever kept.
      rest += chunk.slice(from, Math.min(to, from + maxFrameBytes + 1 - rest.length))
      overlong = rest.length > maxFrameBytes
      if (overlong) {
        lines.push(null)
        rest = ''
      }
    }
    if (at >= 0) {
      if (whole && !overlong) lines.push({ text: rest.replace(/^[\r\n]+|[\r\n]+$/g, ''), frameBytes: rest.length })
      rest = ''
      whole = true
      overlong = false
    }
    from = to
  }
  return { lines, memory: { rest, whole, overlong } }
}

/** The lines of `chunk` as `read` understands each: values, the fault that forbids their use, or null for a line to pass over. */
export function readLines(
  memory: LineMemory | null,
  chunk: string,
  end: 'lf' | 'cr',
  maxFrameBytes: number,
  read: (text: string) => readonly Measured[] | Fault | null,
): Decoded<LineMemory> {
  const { lines, memory: lineMemory } = splitLines(memory, chunk, end, maxFrameBytes)
  const readings: Reading[] = []
  const faults: Fault[] = []
  for (const line of lines) {
    const found = line === null ? overlong(maxFrameBytes) : read(line.text)
    if (found === null) continue
    if ('code' in found) faults.push(found)
    else readings.push(...found.map((value) => ({ ...value, frameBytes: line!.frameBytes })))
  }
  return { readings, faults, memory: lineMemory }
}

export const overlong = (maxFrameBytes: number) =>
  faultOf('overlong', `no line end in ${maxFrameBytes} bytes: check the baud rate and the end of a line`)
