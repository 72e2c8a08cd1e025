import { createHash, createPublicKey } from 'node:crypto'
import { chmodSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { beginRecording } from '../../src/acquisition/begin-recording.ts'
import { readProof } from '../../src/commands/read-signature.ts'
import { knownKeys, openBenchKey } from '../../src/signing/bench-key.ts'
import { unlock } from '../../src/signing/key-file.ts'
import { runCommand } from '../harness/run-command.ts'
import { sampleStart } from '../harness/sample-start.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const signing = join(folder, 'home/data/makebreak/signing')
const file = join(signing, 'bench.key')
const key = (...args: string[]) => runCommand(folder, ['key', ...args])

test('the key is made on first use and shown with its fingerprint, its public half, and what to do with it', async () => {
  const { status, out } = await key()
  expect(status).toBe(0)
  const spki = createPublicKey(readFileSync(file, 'utf8')).export({ type: 'spki', format: 'der' })
  const fingerprint = createHash('sha256').update(spki).digest('hex')
  const shown = out.split('\n').slice(1, 3).join('').replaceAll(' ', '')
  expect(shown).toBe(fingerprint)
  expect(out).toContain(`File: ${file} (without a passphrase)`)
  for (const words of ['who holds the key can lie', 'fingerprint on paper', 'Back it up', 'key --replace'])
    expect(out).toContain(words)
  expect(out).not.toContain('PRIVATE KEY')
  expect((await key()).out).toBe(out)
})

test.skipIf(process.platform === 'win32')('that others may read it is told, with what to do', async () => {
  chmodSync(file, 0o644)
  expect((await key()).out).toContain(`Others than you may read the key ${file} (its rights are 644): run chmod 600`)
  chmodSync(file, 0o600)
})

test('the public half alone is what others are given, and one thing is done at a time', async () => {
  const { out } = await key('--public')
  expect(readFileSync(file, 'utf8').startsWith(out)).toBe(true)
  expect(out).toMatch(/^-----BEGIN PUBLIC KEY-----\n[A-Za-z0-9+/=]+\n-----END PUBLIC KEY-----\n$/)
  expect(await key('--public', '--replace')).toMatchObject({ status: 64 })
})

test('a passphrase cannot be set without a terminal, and nothing changes', async () => {
  const before = readFileSync(file, 'utf8')
  expect(await key('--passphrase')).toMatchObject({ status: 65 })
  expect(readFileSync(file, 'utf8')).toBe(before)
})

test('what paper says of a recording is its digest and who signed it, and nothing where its seal is broken', async () => {
  const privateKey = unlock(openBenchKey(signing), null)!
  const der = privateKey.export({ type: 'pkcs8', format: 'der' }).toString('base64')
  const path = join(folder, 'a.run')
  const { recorder, sealLast } = beginRecording(path, sampleStart, { privateKey: der, chain: join(folder, 'chain') })
  recorder.append({ type: 'end', t: 10, reason: 'finished' })
  sealLast(10)
  recorder.close()
  const keys = { given: null, known: knownKeys(signing) }
  const proof = await readProof(path, keys)
  expect(proof.digest).toBe(createHash('sha256').update(readFileSync(path)).digest('hex'))
  expect(proof.signed).toMatchObject({ lines: 2, key: keys.known[0]?.fingerprint })
  expect(proof.told).toMatchObject({ holds: true, key: keys.known[0]?.fingerprint })
  writeFileSync(path, 'x', { flag: 'a' })
  expect(await readProof(path, keys)).toMatchObject({ signed: null, told: null })
})
