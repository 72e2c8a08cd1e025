// Bytes of a recording, in pieces of any size, into checked events: damage named, seals compared, nothing repaired.
import { isAscii } from 'node:buffer'
import { createHash } from 'node:crypto'
import { parseEvent, type RecordedEvent, type RunEvent } from '../core/model/event.ts'
import { Problem } from '../errors.ts'
import { decodeLine, encodeLine, maxLineBytes } from './format.ts'
import type { SignedSeal } from './seal-signature.ts'

export type Reader = {
  /** The events of the lines that `bytes` completes. `bytes` may be used again afterwards. */
  push(bytes: Buffer): RecordedEvent[]
  /** What can only be said at the end of the file: torn bytes. */
  finish(): RecordedEvent[]
  /** What the bytes so far come to, for those who check signatures and chains. */
  digests(): Digests
}

/** SHA-256 (hex) of what a recording may be named by. */
export type Digests = {
  /** Of its first line; null before there is one. */
  first: string | null
  /** Of all of its bytes. */
  whole: string
  /** Of the line of the seal that it ends with, and what that seal says; null where it ends with none. */
  seal: { digest: string; signed: Signed | null } | null
}

/** What a signature is over, and whether its line is written as a signed seal is: nothing in it may be otherwise. */
export type Signed = SignedSeal & { sig: string; exact: boolean }

const lineFeed = 10

/**
 * A reader for one file from its first byte. How the bytes are cut changes nothing, and memory stays within one line.
 * Throws a Problem for a file that is empty, no recording, or of a newer format; the caller names the file.
 */
export function createReader(): Reader {
  const hash = createHash('sha256')
  let rest: Buffer = Buffer.alloc(0)
  /** Bytes let go of an unfinished line that is already too long. */
  let dropped = 0
  let offset = 0
  let lines = 0
  let lastT = 0
  let first: string | null = null
  let seal: Digests['seal'] = null

  /** The event of one whole line, `ascii` its text where it is of such bytes alone; `sha256` gives the digest of all bytes before it. */
  function readLine(line: Buffer, ascii: string | null, sha256: () => string): RecordedEvent {
    const corrupt = (why: string): RecordedEvent => ({ type: 'corrupt', line: lines + 1, offset, why })
    seal = null
    if (lines === 0) first = lineDigest(line)
    const decoded = dropped > 0 ? { why: `longer than ${maxLineBytes} bytes` } : decodeLine(line, ascii)
    if ('why' in decoded) return corrupt(decoded.why)
    if (lines === 0) refuseNewer(decoded.json)
    const parsed = parseEvent(decoded.json)
    if ('why' in parsed) return corrupt(parsed.why)
    const { event } = parsed
    if ((event.type === 'start') !== (lines === 0))
      return corrupt(event.type === 'start' ? 'a second start' : 'the first line is not a start')
    if (event.type === 'start') return event
    if (event.t < lastT) return corrupt(`t ${event.t} us is less than ${lastT} us before it`)
    const beforeT = lastT
    lastT = event.t
    if (event.type !== 'seal') return event
    seal = { digest: lineDigest(line), signed: signedOf(event, beforeT, line) }
    return { ...event, matches: event.lines === lines && event.sha256 === sha256() }
  }

  function push(bytes: Buffer): RecordedEvent[] {
    const data = rest.length > 0 ? Buffer.concat([rest, bytes]) : bytes
    const events: RecordedEvent[] = []
    // One text for all lines: to cut each from it costs less than to decode each.
    const ascii = isAscii(data) ? data.toString('latin1') : null
    let from = 0
    let hashed = 0
    const hashUpTo = (end: number) => {
      hash.update(data.subarray(hashed, end))
      hashed = end
    }
    const sha256 = () => {
      hashUpTo(from)
      return hash.copy().digest('hex')
    }
    for (let to = data.indexOf(lineFeed, rest.length); to >= 0; to = data.indexOf(lineFeed, from)) {
      const line = data.subarray(from, to)
      if (lines === 0 && dropped === 0) refuseForeign(line, looksLikeLine)
      events.push(readLine(line, ascii?.slice(from, to) ?? null, sha256))
      offset += dropped + line.length + 1
      dropped = 0
      lines++
      from = to + 1
    }
    hashUpTo(from)
    const tail = data.subarray(from)
    if (dropped === 0 && tail.length <= maxLineBytes) {
      rest = Buffer.from(tail)
      return events
    }
    if (lines === 0 && dropped === 0) refuseForeign(tail, looksLikeLine)
    hash.update(tail)
    dropped += tail.length
    rest = Buffer.alloc(0)
    return events
  }

  function finish(): RecordedEvent[] {
    const bytes = dropped + rest.length
    if (bytes > 0) seal = null
    if (lines > 0) return bytes > 0 ? [{ type: 'torn', bytes }] : []
    if (bytes === 0) throw new Problem('recording-empty', 'The file is empty (0 bytes).')
    refuseForeign(rest, looksLikeTornLine)
    throw new Problem('recording-empty', `The file holds ${bytes} bytes of a torn first line and no event.`)
  }

  return {
    push,
    finish,
    digests: () => ({ first, whole: hash.copy().update(rest).digest('hex'), seal }),
  }
}

const lineDigest = (line: Buffer) => createHash('sha256').update(line).update('\n').digest('hex')

/** What a signed seal says, whose line follows one at `beforeT`; null where it has no signature. */
function signedOf(
  { lines, sha256, key, sig }: Extract<RunEvent, { type: 'seal' }>,
  beforeT: number,
  line: Buffer,
): Signed | null {
  if (key === undefined || sig === undefined) return null
  const seal = { lines, sha256, key, sig }
  const written = encodeLine({ type: 'seal', t: beforeT, ...seal })
  return { ...seal, exact: written.subarray(0, -1).equals(line) }
}

const looksLikeLine = /^[0-9a-f]{8} \{/
const looksLikeTornLine = /^[0-9a-f]{0,8}$|^[0-9a-f]{8} (\{|$)/

/** A damaged first line is damage to be named; one with neither the frame nor the word of a first line is another kind of file. */
function refuseForeign(first: Buffer, frame: RegExp): void {
  const text = first.toString('latin1', 0, maxLineBytes)
  if (!frame.test(text) && !text.includes('"type":"start"'))
    throw new Problem('recording-foreign', 'This is not a recording: its first line is not an event.')
}

function refuseNewer(json: unknown): void {
  if (typeof json !== 'object' || json === null || !('type' in json) || json.type !== 'start') return
  const format = 'format' in json ? json.format : undefined
  if (typeof format === 'number' && format > 1)
    throw new Problem('recording-newer', `The recording has format ${format}; this makebreak reads format 1.`)
}
