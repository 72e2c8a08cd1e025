// The key of this bench, with its passphrase asked for where it has one, into what the recording process signs with.
import type { KeyObject } from 'node:crypto'
import { join } from 'node:path'
import { shortFingerprint } from '../core/text/fingerprint-text.ts'
import { Problem } from '../errors.ts'
import { type BenchKey, openBenchKey } from '../signing/bench-key.ts'
import { unlock } from '../signing/key-file.ts'
import type { Signing } from '../source/acquire.ts'
import { userFolders } from '../user-folders.ts'
import { askSecret } from './ask-secret.ts'

const tries = 3
/** Asked for once, until the program ends. */
let unlocked: { fingerprint: string; key: KeyObject } | null = null

/** Where the chain of this bench's recordings is kept. */
export const chainFolder = (): string => join(userFolders().signing, 'chain')

/** What a test of a real bench is signed with, and what there is to say of it before the test; `signing` null where there can be none. */
export async function openSigning(): Promise<{ signing: Signing | null; notes: string[] }> {
  let bench: BenchKey
  try {
    bench = openBenchKey(userFolders().signing)
  } catch (error) {
    if (!(error instanceof Problem)) throw error
    return { signing: null, notes: [`This test will not be signed. ${error.message} ${error.next}`] }
  }
  const key = await unlockBenchKey(bench)
  const privateKey = key.export({ type: 'pkcs8', format: 'der' }).toString('base64')
  return { signing: { privateKey, chain: chainFolder() }, notes: keyNotes(bench) }
}

/** Asks for the passphrase where there is one. Throws a Problem where it is not told. */
export async function unlockBenchKey(bench: BenchKey): Promise<KeyObject> {
  const { fingerprint, locked, file } = bench
  if (unlocked?.fingerprint === fingerprint) return unlocked.key
  let key = locked ? null : unlock(bench, null)
  for (let left = tries; locked && key === null && left > 0; left--) {
    const typed = await askSecret(
      left < tries ? 'That is not it. Passphrase: ' : 'Passphrase of the key of this bench: ',
    )
    if (typed === null) break
    key = unlock(bench, typed)
  }
  if (key === null && locked) throw new Problem('key-locked', `The key ${file} needs its passphrase to sign.`)
  if (key === null)
    throw new Problem('key-invalid', `The two keys in ${file} are not a pair.`, 'Put your backup of it there again.')
  unlocked = { fingerprint, key }
  return key
}

/** What is to be said of the key of the bench: that it is new, and who else may read it. */
export function keyNotes({ fresh, fingerprint, file, wide }: BenchKey): string[] {
  return [
    ...(fresh
      ? [
          `This bench has a key of its own now, ${shortFingerprint(fingerprint)}: \`makebreak key\` says how to back it up.`,
        ]
      : []),
    ...(wide === null
      ? []
      : [`Others than you may read the key ${file} (its rights are ${wide}): run chmod 600 on it, or make a new one.`]),
  ]
}
