import { execFileSync, spawnSync } from 'node:child_process'
import { createHash, createPrivateKey, createPublicKey, generateKeyPairSync, sign, verify } from 'node:crypto'
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { createRecording, type StartFields } from '../../src/recording/append.ts'
import { encodeLine } from '../../src/recording/format.ts'
import { createReader } from '../../src/recording/read.ts'
import { createSigner, fingerprintOf, isSignedBy } from '../../src/recording/seal-signature.ts'
import { sampleStart } from '../harness/sample-start.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const { privateKey, publicKey } = generateKeyPairSync('ed25519')

/** The bytes of a small recording that was signed with the key of these tests. */
function signedRecording(name: string, start: StartFields = sampleStart): Buffer {
  const path = join(folder, name)
  const recorder = createRecording(path, start)
  recorder.appendBytes('rx', 20, 'manometer', Buffer.from('-62.4 Pa\r\n'))
  recorder.append({ type: 'end', t: 50, reason: 'finished' })
  recorder.append({ type: 'verdict', t: 60, result: { verdict: 'pass' } })
  recorder.signSeal(createSigner(privateKey))
  recorder.close()
  return readFileSync(path)
}

/** Whether a file of these bytes is whole, and sealed by the key of these tests. */
function holds(bytes: Buffer): boolean {
  const reader = createReader()
  try {
    const events = [...reader.push(bytes), ...reader.finish()]
    const last = events.at(-1)
    const signed = reader.digests().seal?.signed
    return (
      events.every(({ type }) => type !== 'corrupt' && type !== 'torn') &&
      last?.type === 'seal' &&
      last.matches &&
      signed?.exact === true &&
      isSignedBy(publicKey, signed)
    )
  } catch {
    return false
  }
}

// RFC 8032, section 7.1: TEST 1, TEST 2 and TEST 3.
test.each([
  [
    '9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60',
    'd75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a',
    '',
    'e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b',
  ],
  [
    '4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb',
    '3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c',
    '72',
    '92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00',
  ],
  [
    'c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7',
    'fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025',
    'af82',
    '6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a',
  ],
])('the vector of RFC 8032 with the secret key %s is signed and verified', (secret, publicHex, message, signature) => {
  // The fixed bytes before the key are those of RFC 8410, section 7 and section 4.
  const key = createPrivateKey({
    key: Buffer.from(`302e020100300506032b657004220420${secret}`, 'hex'),
    format: 'der',
    type: 'pkcs8',
  })
  const spki = Buffer.from(`302a300506032b6570032100${publicHex}`, 'hex')
  const open = createPublicKey({ key: spki, format: 'der', type: 'spki' })
  const bytes = Buffer.from(message, 'hex')
  expect(sign(null, bytes, key).toString('hex')).toBe(signature)
  expect(verify(null, bytes, open, Buffer.from(signature, 'hex'))).toBe(true)
  expect(fingerprintOf(key)).toBe(createHash('sha256').update(spki).digest('hex'))
  const seal = { lines: 3, sha256: 'ab'.repeat(32) }
  const signer = createSigner(key)
  expect(isSignedBy(open, { ...seal, key: signer.key, sig: signer.sign(seal) })).toBe(true)
  expect(isSignedBy(open, { ...seal, lines: 4, key: signer.key, sig: signer.sign(seal) })).toBe(false)
})

test('in a signed recording no byte can be otherwise: whatever bit of it is flipped, it holds no more', () => {
  const bytes = signedRecording('flipped.run')
  expect(holds(bytes)).toBe(true)
  const unnoticed: number[] = []
  for (let i = 0; i < bytes.length; i++) {
    const changed = Buffer.from(bytes)
    changed[i]! ^= 1 << (i % 8)
    if (holds(changed)) unnoticed.push(i)
  }
  expect(unnoticed).toEqual([])
})

test('nor can one of the last line, where its CRC is made to match again', () => {
  const bytes = signedRecording('last-line.run')
  const from = bytes.lastIndexOf(10, bytes.length - 2) + 1
  const json = bytes.subarray(from + 9, -1).toString()
  const unnoticed: string[] = []
  const printable = [...'07ABRhz= ']
  for (let i = 0; i < json.length; i++)
    for (const char of printable) {
      if (json[i] === char) continue
      const changed = json.slice(0, i) + char + json.slice(i + 1)
      try {
        const line = encodeLine(JSON.parse(changed))
        // As it would be read where it is valid, in the spelling of the change.
        if (line.subarray(9, -1).toString() !== changed) continue
        if (holds(Buffer.concat([bytes.subarray(0, from), line]))) unnoticed.push(changed)
      } catch {
        // It is no JSON any more.
      }
    }
  expect(unnoticed).toEqual([])
})

type Seal = { type: 'seal'; t: number; lines: number; sha256: string; key: string; sig: string }

/** The recording with `from` changed to `to`, and all of its checksums and its seal made to match again. */
function forged(bytes: Buffer, from: string, to: string, sealWith: (seal: Seal) => object): Buffer {
  const text = bytes.toString().replace(from, to)
  const events: object[] = text
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line.slice(9)))
  const before = Buffer.concat(events.slice(0, -1).map(encodeLine))
  const seal = { ...(events.at(-1) as Seal), sha256: createHash('sha256').update(before).digest('hex') }
  return Buffer.concat([before, encodeLine(sealWith(seal))])
}

test.each([
  ['a wider limit', '"high":70', '"high":90'],
  ['scaled readings', '-62.4 Pa', '-60.0 Pa'],
  ['another serial number', '"serial":"A1"', '"serial":"B2"'],
  ['the simulated flag', '"simulated":false', '"simulated":true'],
  ['another clock', '2026-01-05T', '2026-02-05T'],
])('a recording with %s, sealed once more, is not signed by this key', (what, from, to) => {
  const bytes = signedRecording(`${what}.run`, { ...sampleStart, part: { ...sampleStart.part, serial: 'A1' } })
  expect(bytes.includes(from)).toBe(true)
  const asBefore = (seal: Seal) => seal
  expect(holds(forged(bytes, from, from, asBefore))).toBe(true)
  const other = createSigner(generateKeyPairSync('ed25519').privateKey)
  for (const sealWith of [
    asBefore,
    ({ type, t, lines, sha256 }: Seal) => ({ type, t, lines, sha256 }),
    (seal: Seal) => ({ ...seal, key: other.key, sig: other.sign(seal) }),
    (seal: Seal) => ({ ...seal, sig: other.sign(seal) }),
  ]) {
    const file = forged(bytes, from, to, sealWith)
    expect(createReader().push(file).at(-1)).toMatchObject({ type: 'seal', matches: true })
    expect(holds(file)).toBe(false)
  }
})

const hasOpenssl = spawnSync('openssl', ['version']).status === 0 && spawnSync('sha256sum', ['--version']).status === 0
test.skipIf(!hasOpenssl)(
  'a stranger checks it by the steps of format.ts with common tools (skipped where they are not there)',
  () => {
    signedRecording('stranger.run')
    writeFileSync(join(folder, 'bench.pem'), publicKey.export({ type: 'spki', format: 'pem' }))
    const prose = readFileSync(new URL('../../src/recording/format.ts', import.meta.url), 'utf8')
    const steps = [...prose.matchAll(/^\/\/ {7}((?:head|openssl|echo) .*?)(?: {2,}gives (\w+).*)?$/gm)]
    expect(steps).toHaveLength(6)
    const [seal] = readFileSync(join(folder, 'stranger.run'), 'utf8').trimEnd().split('\n').slice(-1)
    const { lines, sha256, key, sig } = JSON.parse(seal!.slice(9))
    const values: Record<string, string> = {
      LINES: String(lines),
      SHA256: sha256,
      KEY: key,
      SIG: sig,
      FILE: 'stranger.run',
    }
    let said = ''
    for (const [, command = '', gives] of steps) {
      const filled = command.replaceAll(/\b(LINES|SHA256|KEY|SIG|FILE)\b/g, (name) => values[name]!)
      said = execFileSync('sh', ['-c', filled], { cwd: folder, encoding: 'utf8' })
      if (gives !== undefined) expect(said.trim().split(' ')[0]).toBe(values[gives])
    }
    expect(said).toContain('Signature Verified Successfully')
    writeFileSync(join(folder, 'message'), `makebreak seal ${lines + 1} ${sha256} ${key}\n`)
    const last = steps.at(-1)![1]!
    expect(spawnSync('sh', ['-c', last], { cwd: folder }).status).not.toBe(0)
  },
)
