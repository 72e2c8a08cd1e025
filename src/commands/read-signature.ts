// A recording on disk into what paper says of its proof: the digest by which it is named, and who signed it.
import type { RecordedEvent } from '../core/model/event.ts'
import { createReader, type Signed } from '../recording/read.ts'
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

/** Throws a Problem where the file cannot be read. */
export async function readProof(file: string, keys: Keys): Promise<Proof> {
  const reader = createReader()
  let first: RecordedEvent | undefined
  let last: RecordedEvent | undefined
  for await (const batch of replay(file, reader)) {
    first ??= batch[0]
    last = batch.at(-1) ?? last
  }
  const digests = reader.digests()
  const sealed = last?.type === 'seal' && last.matches
  return {
    digest: digests.whole,
    signed: digests.seal?.signed ?? null,
    told: sealed ? signatureOf(first?.type === 'start' ? first : null, digests, keys) : null,
  }
}
