// A conversation into the chunks that decode is handed, and into the ways to cut what was received.
import type { Way } from '../core/model/reading.ts'
import { createDice, cutAtRandom, type Dice } from './noise.ts'
import type { Transcript } from './transcript.ts'

export type Chunk = { way: Way; bytes: string }

export const received = (bytes: string): Chunk => ({ way: 'received', bytes })

export function chunksOf(bytes: Transcript['bytes']): Chunk[] {
  const parts = typeof bytes === 'string' ? [bytes] : bytes
  return parts.map((part) => (typeof part === 'string' ? received(part) : { way: 'sent', bytes: part.sent }))
}

/** Into two at each place, into single bytes, and fifty times at random. What was sent stays whole. */
export function* everyCut(chunks: readonly Chunk[]): Generator<Chunk[]> {
  for (const [index, { way, bytes }] of chunks.entries())
    for (let at = 0; way === 'received' && at <= bytes.length; at++)
      yield chunks.toSpliced(index, 1, received(bytes.slice(0, at)), received(bytes.slice(at)))
  yield cutSingly(chunks)
  const dice = createDice(chunks.reduce((sum, { bytes }) => sum + bytes.length, 0))
  for (let trial = 0; trial < 50; trial++) yield cutRandomly(chunks, dice)
}

export const cutSingly = (chunks: readonly Chunk[]) => cutReceived(chunks, (bytes) => [...bytes])

export const cutRandomly = (chunks: readonly Chunk[], dice: Dice) =>
  cutReceived(chunks, (bytes) => cutAtRandom(bytes, dice))

function cutReceived(chunks: readonly Chunk[], cut: (bytes: string) => readonly string[]): Chunk[] {
  return chunks.flatMap((chunk) => (chunk.way === 'sent' ? [chunk] : cut(chunk.bytes).map(received)))
}
