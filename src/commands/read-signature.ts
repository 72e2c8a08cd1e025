// A recording into what paper says of its proof: the digest by which it is named, and who signed it.
import type { RecordedEvent } from '../core/model/event.ts'
import { createReader, type Digests, type Signed } from '../recording/read.ts'
import { replay } from '../source/replay.ts'
import { type Keys, type SignatureTold, signatureOf } from './signature-text.ts'

export type Proof = {
  /** SHA-256 (hex) of all bytes of the file, as `sha256sum FILE` gives it. */
  digest: string
  /** The last line's seal where it is signed: its `lines`, `sha256`, `key` and `sig`. */
  signed: Signed | null
  /** Null where the recording does not end with a seal that holds. */
  told: SignatureTold | null
}

/** The first and the last event of a recording. */
export type Ends = { first: RecordedEvent | undefined; last: RecordedEvent | undefined }

/** Throws a Problem where the file cannot be read. */
export async function readProof(file: string, keys: Keys): Promise<Proof> {
  const reader = createReader()
  const ends: Ends = { first: undefined, last: undefined }
  for await (const _ of noting(replay(file, reader), ends));
  return proofOf(ends, reader.digests(), keys)
}

/** The batches of `source` as they are; the ends of what has come are kept in `ends`. */
export async function* noting(
  source: AsyncIterable<readonly RecordedEvent[]>,
  ends: Ends,
): AsyncGenerator<readonly RecordedEvent[]> {
  for await (const batch of source) {
    ends.first ??= batch[0]
    ends.last = batch.at(-1) ?? ends.last
    yield batch
  }
}

/** The proof of a recording that was read to its end. */
export function proofOf({ first, last }: Ends, digests: Digests, keys: Keys): Proof {
  const sealed = last?.type === 'seal' && last.matches
  return {
    digest: digests.whole,
    signed: digests.seal?.signed ?? null,
    told: sealed ? signatureOf(first?.type === 'start' ? first : null, digests, keys) : null,
  }
}
