// A recording on disk, read once, into the run that it tells and the proof of it.
import { initialRun, type Run, step } from '../core/intake/run.ts'
import { createReader, type Digests } from '../recording/read.ts'
import { runSession } from '../session.ts'
import { knownKeys } from '../signing/bench-key.ts'
import { replay } from '../source/replay.ts'
import { userFolders } from '../user-folders.ts'
import type { FindDecode } from './bind-drivers.ts'
import { naming } from './fold-recording.ts'
import { type Ends, noting, type Proof, proofOf } from './read-signature.ts'
import { signatureOf } from './signature-text.ts'

export type Evidence = { run: Run; proof: Proof }

/** Throws a Problem that names `path` where it is no recording. */
export function readEvidence(path: string, findDecode: FindDecode): Promise<Evidence> {
  return naming(path, async () => {
    const reader = createReader()
    const ends: Ends = { first: undefined, last: undefined }
    const source = noting(replay(path, reader), ends)
    const run = await runSession({ source, initial: initialRun(findDecode), step })
    return { run, proof: proofOf(ends, reader.digests(), keysHere()) }
  })
}

/** The keys that are known on this computer. */
export const keysHere = () => ({ given: null, known: knownKeys(userFolders().signing) })

/** Who signed the recording of `run`, which was read to its end; null where it does not end with a seal that holds. */
export function signatureOfRun({ setup, damage }: Run, digests: Digests): string | null {
  if (setup === null || damage.seal !== 'intact') return null
  return signatureOf(setup.start, digests, keysHere()).text
}
