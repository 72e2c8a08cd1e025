// A seal and a key pair into the signature that binds the seal to the bench, and the check of one.
import { createHash, createPublicKey, type KeyObject, sign, verify } from 'node:crypto'

/** What the signature of a seal covers: the number of lines and the SHA-256 before it, and the fingerprint of the key. */
export type SignedSeal = { lines: number; sha256: string; key: string }

/** Who signs: the fingerprint of a key, and the signature (base64) that it gives to a seal of so many lines and such a digest. */
export type Signer = { key: string; sign(seal: Omit<SignedSeal, 'key'>): string }

/** The text that is signed, all of it ASCII; format.ts says how to make it with common tools. */
export function sealMessage({ lines, sha256, key }: SignedSeal): Buffer {
  return Buffer.from(`makebreak seal ${lines} ${sha256} ${key}\n`)
}

/** The fingerprint of a key pair: SHA-256 (hex) of its public key as DER (SubjectPublicKeyInfo, RFC 8410, section 4). */
export function fingerprintOf(key: KeyObject): string {
  const publicKey = key.type === 'private' ? createPublicKey(key) : key
  return createHash('sha256')
    .update(publicKey.export({ type: 'spki', format: 'der' }))
    .digest('hex')
}

/** Signs with an Ed25519 private key (RFC 8032, section 5.1.6). */
export function createSigner(privateKey: KeyObject): Signer {
  const key = fingerprintOf(privateKey)
  return { key, sign: (seal) => sign(null, sealMessage({ ...seal, key }), privateKey).toString('base64') }
}

/** Whether `sig` is what the owner of `publicKey`, and nobody else, gives to this seal (RFC 8032, section 5.1.7). */
export function isSignedBy(publicKey: KeyObject, { sig, ...seal }: SignedSeal & { sig: string }): boolean {
  const bytes = Buffer.from(sig, 'base64')
  // Of the many texts that decode to the same bytes only one is taken, so that no character of it may change.
  if (bytes.toString('base64') !== sig || seal.key !== fingerprintOf(publicKey)) return false
  return verify(null, sealMessage(seal), publicKey, bytes)
}
