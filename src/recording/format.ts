// The recording, format 1: one event into the bytes of its line, and one line back into the JSON value it holds.
//
// A recording (`.run`) is a UTF-8 text file, one event a line:
//
//     f53b4d6e {"type":"mark","t":1500000,"mark":"zero"}
//
// - Eight lower-case hex digits (CRC-32 of the bytes of the JSON), one space, one JSON object, one LF. A capital digit is
//   damage: a flipped case bit shows.
// - No line is longer than 64 KiB, its LF included.
// - Torn: bytes after the last LF. The machine died while it wrote; they are dropped, and that is said.
// - Corrupt: a whole line that is too long, whose CRC does not match, that is no JSON or no known event, or whose `t` is less
//   than the one before. It is named by number and byte offset, never repaired; reading goes on at the next line. A line
//   that ends in CR LF is one: where all do, a copy as text has changed them, and that is said in their place.
// - `t` is whole microseconds on a monotonic clock since the start; `start` has none and counts as 0.
// - `start` is the first line, once. `end` is the last input; `verdict` (at most one) and `seal` may follow it. A
//   result that does not fit into one line is left out: the inputs give it again.
// - `seal` holds the number of lines before it and the SHA-256 of all bytes before it. It may stand many times; the last
//   line of a finished recording is one.
// - That last seal may be signed by the key of the bench (Ed25519, RFC 8032). It then has the keys `type`, `t`, `lines`,
//   `sha256`, `key`, `sig` in this order and no others, its `t` is that of the line before it, and it is written as here,
//   without spaces: so nothing in it may change. `key` is the fingerprint: the SHA-256 (hex) of the public key as DER.
//   `sig` is the signature (base64, 64 bytes) of one line of text, its LF included, with the values of the seal:
//
//       makebreak seal LINES SHA256 KEY
//
//   A stranger checks it with the public key in bench.pem and common tools:
//
//       head -n -1 FILE | sha256sum                                 gives SHA256
//       head -n -1 FILE | wc -l                                     gives LINES
//       openssl pkey -pubin -in bench.pem -outform DER | sha256sum  gives KEY, which is on the bench's paper
//       echo "makebreak seal LINES SHA256 KEY" > message
//       echo "SIG" | base64 -d > signature
//       openssl pkeyutl -verify -pubin -inkey bench.pem -rawin -in message -sigfile signature
//
// - `previous` in `start` chains the recordings of a bench: the SHA-256 (hex) of the bytes of the recording's last line, LF
//   included, that this bench made before, where that line is a seal; of one that was killed that of all its bytes as
//   found; of one that another program was still making that of its first line, LF included.
// - `rx` and `tx` hold bytes as `text` where all are printable ASCII, CR, LF or TAB, as `b64` otherwise. No byte is dropped;
//   one line of an instrument may be split over several events.
// - Unknown keys are kept and ignored.
import { crc32 } from 'node:zlib'
import { changedLineEnd } from '../core/model/event.ts'

export const maxLineBytes = 65_536
/** Digits and the space before the JSON. */
const prefixLength = 9
const carriageReturn = 13
const space = 32

/** The line of `event` as bytes, its LF included. It may come out longer than `maxLineBytes`: the caller looks. */
export function encodeLine(event: object): Buffer {
  const json = JSON.stringify(event)
  return Buffer.from(`${crc32(json).toString(16).padStart(8, '0')} ${json}\n`)
}

/** The JSON value of one line (its LF left off), or `why` it is damaged. `ascii`: its text, for a caller that has it already. */
export function decodeLine(line: Buffer, ascii: string | null = null): { json: unknown } | { why: string } {
  if (line.length + 1 > maxLineBytes) return { why: `longer than ${maxLineBytes} bytes` }
  const bytes = line.subarray(prefixLength)
  const stated = statedCrc(line)
  // Looked at first: JSON ends in no such byte, and a copy of which every line does costs one CRC a line too.
  if (line[line.length - 1] === carriageReturn && stated === crc32(bytes.subarray(0, -1)))
    return { why: changedLineEnd }
  if (stated !== crc32(bytes)) return { why: 'CRC does not match' }
  try {
    return { json: JSON.parse(ascii === null ? bytes.toString() : ascii.slice(prefixLength)) }
  } catch {
    return { why: 'no JSON' }
  }
}

/** What each byte is worth as a digit of the CRC; capital letters are none. */
const digitOf = new Int8Array(256).fill(-1)
for (let digit = 0; digit < 16; digit++) digitOf[digit.toString(16).charCodeAt(0)] = digit

/** The CRC that a line begins with; null where it begins with none. */
function statedCrc(line: Buffer): number | null {
  if (line[prefixLength - 1] !== space) return null
  let crc = 0
  for (let i = 0; i < prefixLength - 1; i++) {
    const digit = digitOf[line[i]!]!
    if (digit < 0) return null
    crc = crc * 16 + digit
  }
  return crc
}
