// Bytes as they come into whole lines: split anywhere they give the same lines, and memory is bounded on any noise.

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
