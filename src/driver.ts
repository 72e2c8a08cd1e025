// The whole contract that a driver's author reads: what a driver is, and checkDriver(), which says what is wrong with one.
import type { Decoded, Quantity } from './core/reading.ts'

/** One option of a driver as plain data; form, schema and check are made from it. */
export type OptionSpec =
  | { kind: 'choice'; values: readonly string[]; default: string; help: string }
  | { kind: 'number'; unit?: string; min: number; max: number; default: number; help: string }
  | { kind: 'text'; default: string; help: string }

export type OptionValue = string | number
export type Options = Readonly<Record<string, OptionValue>>

export type SerialSettings = {
  baudRate: number
  dataBits: 7 | 8
  parity: 'none' | 'even' | 'odd'
  stopBits: 1 | 2
}

/** `lines`: one line an event (`lf` covers CRLF). `bytes`: pieces as they come. */
export type Framing = { kind: 'lines'; end: 'lf' | 'cr' } | { kind: 'bytes' }

/**
 * What the acquisition process needs to know, as data. `start` is sent once at each connection (latin1 text, one char
 * a byte); `poll.bytes` every `periodMs`, one command in flight: the reply is one line, or bytes followed by `quietMs`
 * of silence, else given up after `replyMs`.
 */
export type Wire = {
  framing: Framing
  start: string | null
  poll: { bytes: string; periodMs: number; replyMs: number; quietMs: number } | null
  maxFrameBytes: number
}

/** What the instrument is used for: a manometer yields pressure, a meter resistance, a bridge both. */
export type Role = 'manometer' | 'meter' | 'bridge'

export type Driver<M = unknown> = {
  /** The file's name without ending: an open standard or the shape of its lines, never a product. */
  id: string
  title: string
  serial: SerialSettings
  options: Readonly<Record<string, OptionSpec>>
  channels: readonly { name: string; quantity: Quantity; unit: string }[]
  wire: (options: Options) => Wire
  /**
   * Pure. `chunk` is latin1 text (one char a byte) split anywhere: splitting changes nothing. `memory` is what the last
   * call returned, null at first and after each reconnect; it stays bounded on any noise. Never throws.
   */
  decode: (memory: M | null, chunk: string, context: { options: Options; role: Role }) => Decoded<M>
}
