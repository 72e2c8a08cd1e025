import { chmodSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { createSigner, isSignedBy } from '../../src/recording/seal-signature.ts'
import { knownKeys, openBenchKey, replaceBenchKey, rewriteBenchKey } from '../../src/signing/bench-key.ts'
import { publicPem, readKeyText, unlock } from '../../src/signing/key-file.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const inFolder = (name: string) => join(folder, name)
const modeOf = (path: string) => (statSync(path).mode & 0o777).toString(8)

test('a bench has a key from its first use on, and the same one after', () => {
  const first = openBenchKey(inFolder('first'))
  expect(first).toMatchObject({ fresh: true, locked: false, wide: null })
  const again = openBenchKey(inFolder('first'))
  expect(again).toMatchObject({ fresh: false, fingerprint: first.fingerprint })
  const seal = { lines: 1, sha256: 'ab'.repeat(32) }
  const signer = createSigner(unlock(again, null)!)
  expect(isSignedBy(first.publicKey, { ...seal, key: first.fingerprint, sig: signer.sign(seal) })).toBe(true)
})

test.skipIf(process.platform === 'win32')(
  'its file and folder are for their owner alone, whatever the usual rights are, and wider rights are told',
  () => {
    const before = process.umask(0)
    try {
      const { file } = openBenchKey(inFolder('rights'))
      expect([modeOf(file), modeOf(inFolder('rights'))]).toEqual(['600', '700'])
      for (const mode of [0o644, 0o620, 0o604]) {
        chmodSync(file, mode)
        expect(openBenchKey(inFolder('rights')).wide).toBe(mode.toString(8))
      }
      // Windows has no such rights; what stat makes up is not told.
      expect(openBenchKey(inFolder('rights'), true).wide).toBeNull()
      rewriteBenchKey(inFolder('rights'), unlock(openBenchKey(inFolder('rights')), null)!, 'four words or more')
      expect(modeOf(file)).toBe('600')
    } finally {
      process.umask(before)
    }
  },
)

test('with a passphrase the same key signs only for who knows it, and its public half is read without', () => {
  const at = inFolder('locked')
  const { fingerprint, file, ...open } = openBenchKey(at)
  const key = unlock({ fingerprint, ...open }, null)!
  const secret = key.export({ format: 'jwk' }).d!
  rewriteBenchKey(at, key, 'one two three four')
  const locked = openBenchKey(at)
  expect(locked).toMatchObject({ fingerprint, locked: true })
  expect(readFileSync(file, 'utf8')).toContain('BEGIN ENCRYPTED PRIVATE KEY')
  expect(readFileSync(file, 'latin1')).not.toContain(Buffer.from(secret, 'base64url').toString('base64').slice(0, 20))
  for (const wrong of [null, '', 'one two three']) expect(unlock(locked, wrong)).toBeNull()
  expect(unlock(locked, 'one two three four')?.export({ format: 'jwk' }).d).toBe(secret)
  rewriteBenchKey(at, key, null)
  expect(unlock(openBenchKey(at), null)).not.toBeNull()
})

test('a replaced key stays known as one of this bench, and so do public keys that were put there', () => {
  const at = inFolder('replaced')
  const old = openBenchKey(at)
  const kept = replaceBenchKey(at)
  const now = openBenchKey(at)
  expect(now.fingerprint).not.toBe(old.fingerprint)
  const other = openBenchKey(inFolder('other'))
  writeFileSync(join(at, 'north.pem'), publicPem(other.publicKey))
  writeFileSync(join(at, 'broken.pem'), 'no key')
  expect(knownKeys(at).map(({ fingerprint, own, file }) => [fingerprint, own, file])).toEqual([
    [now.fingerprint, true, now.file],
    [other.fingerprint, false, join(at, 'north.pem')],
    [old.fingerprint, true, kept],
  ])
  expect(unlock(readKeyText(readFileSync(kept!, 'utf8'))!, null)).not.toBeNull()
  expect(knownKeys(inFolder('nowhere'))).toEqual([])
})

test('a file that holds no key, or two halves of different keys, signs nothing', () => {
  const at = inFolder('broken')
  mkdirSync(at)
  writeFileSync(join(at, 'bench.key'), 'no key')
  expect(() => openBenchKey(at)).toThrow(`The file ${join(at, 'bench.key')} does not hold the key of this bench.`)
  expect(replaceBenchKey(at)).toBe(join(at, 'replaced-broken.key'))
  const now = openBenchKey(at)
  const other = openBenchKey(inFolder('other-half'))
  expect(unlock({ ...now, publicKey: other.publicKey, fingerprint: other.fingerprint }, null)).toBeNull()
})
