// Bytes as they arrive into the pieces to be recorded: whole lines, or as they came. No byte is dropped.
import { ReadlineParser } from '@serialport/parser-readline'
import type { Wire } from '../driver.ts'

export type Framer = {
  push(bytes: Buffer): void
  /** Hands out what is left of an unfinished line. */
  release(): void
}

/** `wholeLine`: the piece ends with the line's end. */
type OnPiece = (piece: Buffer, wholeLine: boolean) => void

/** Pieces for `wire`'s framing; a line that grows past `maxFrameBytes` goes out as it came. */
export function createFramer(wire: Pick<Wire, 'framing' | 'maxFrameBytes'>, onPiece: OnPiece): Framer {
  if (wire.framing.kind === 'bytes') return { push: (bytes) => onPiece(bytes, false), release: () => {} }
  const parser = new BoundedReadline(wire.framing.end === 'lf' ? '\n' : '\r', wire.maxFrameBytes, onPiece)
  return { push: (bytes) => parser.write(bytes), release: () => parser.release() }
}

/**
 * The library's line parser keeps no bound (and is quadratic without one). Pieces leave through `push` at once, not
 * through the stream's buffer: so their order against other events and the stamp of their chunk hold.
 */
class BoundedReadline extends ReadlineParser {
  readonly #maxBytes: number
  readonly #end: number
  readonly #onPiece: OnPiece

  constructor(delimiter: string, maxBytes: number, onPiece: OnPiece) {
    super({ delimiter, includeDelimiter: true })
    this.#maxBytes = maxBytes
    this.#end = delimiter.charCodeAt(0)
    this.#onPiece = onPiece
  }

  override push(piece: Buffer | null): boolean {
    if (piece && piece.length > 0) this.#onPiece(piece, piece.at(-1) === this.#end)
    return true
  }

  override _transform(chunk: Buffer, encoding: BufferEncoding, done: (error?: Error | null) => void): void {
    super._transform(chunk, encoding, (error?: Error | null) => {
      if (this.buffer.length > this.#maxBytes) this.release()
      done(error)
    })
  }

  release(): void {
    const left = this.buffer
    this.buffer = Buffer.alloc(0)
    this.push(left)
  }
}
