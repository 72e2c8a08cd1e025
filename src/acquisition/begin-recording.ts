// A first line into a recording that will be sealed, and where the bench signs also chained to the one before and signed.
import { createPrivateKey } from 'node:crypto'
import { createRecording, firstLineDigest, type Recorder, type StartFields } from '../recording/append.ts'
import { joinChain, leaveChain } from '../recording/bench-chain.ts'
import { createSigner } from '../recording/seal-signature.ts'
import type { Signing } from './messages.ts'

export type Begun = {
  recorder: Recorder
  /** Appends the last seal; `t` is that of one without a signature. */
  sealLast(t: number): void
}

/** Creates the recording at `file`. Throws a Problem where that cannot be done, or the next place in the chain not be taken. */
export function beginRecording(file: string, start: StartFields, signing: Signing | null): Begun {
  if (signing === null) {
    const recorder = createRecording(file, start)
    return { recorder, sealLast: recorder.seal }
  }
  const { privateKey, chain } = signing
  const der = Buffer.from(privateKey, 'base64')
  const signer = createSigner(createPrivateKey({ key: der, format: 'der', type: 'pkcs8' }))
  const following = (previous: string | null) => (previous === null ? start : { ...start, previous })
  const link = joinChain(chain, file, (previous) => firstLineDigest(following(previous)))
  try {
    const recorder = createRecording(file, following(link.previous))
    return { recorder, sealLast: () => link.sealed(recorder.signSeal(signer)) }
  } catch (error) {
    leaveChain(chain, file)
    throw error
  }
}
