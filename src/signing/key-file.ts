// The text of a key file (PEM) into the public key in it, and where it holds one into the private key too.
import { createPrivateKey, createPublicKey, type KeyObject } from 'node:crypto'
import { fingerprintOf } from '../recording/seal-signature.ts'

export type KeyText = {
  publicKey: KeyObject
  fingerprint: string
  /** The private key as it is written there; null where the file holds none. */
  privatePem: string | null
}

/** Null where the text holds no public key of Ed25519. */
export function readKeyText(text: string): KeyText | null {
  const blocks = [...text.matchAll(/-----BEGIN ([A-Z ]+)-----[\s\S]*?-----END \1-----/g)]
  const pem = blocks.find(([, kind]) => kind === 'PUBLIC KEY')?.[0]
  const privatePem = blocks.find(([, kind]) => kind?.endsWith('PRIVATE KEY'))?.[0] ?? null
  if (pem === undefined) return null
  try {
    const publicKey = createPublicKey(pem)
    return publicKey.asymmetricKeyType === 'ed25519'
      ? { publicKey, fingerprint: fingerprintOf(publicKey), privatePem }
      : null
  } catch {
    return null
  }
}

export const isLocked = (privatePem: string): boolean => privatePem.startsWith('-----BEGIN ENCRYPTED')

/** The private key of a file, by its passphrase where it has one; null where that is wrong, or the two keys are no pair. */
export function unlock({ privatePem, fingerprint }: KeyText, passphrase: string | null): KeyObject | null {
  if (privatePem === null) return null
  try {
    const key = createPrivateKey({ key: privatePem, ...(passphrase === null ? {} : { passphrase }) })
    return fingerprintOf(key) === fingerprint ? key : null
  } catch {
    return null
  }
}

/** What a key file holds: the public key, which is read without a passphrase, and the private one. */
export function writeKeyText(privateKey: KeyObject, passphrase: string | null): string {
  const locked = passphrase === null ? {} : { cipher: 'aes-256-cbc', passphrase }
  const pem = privateKey.export({ type: 'pkcs8', format: 'pem', ...locked })
  return `${publicPem(createPublicKey(privateKey))}${pem}`
}

/** As others are given it. */
export const publicPem = (key: KeyObject): string => String(key.export({ type: 'spki', format: 'pem' }))
