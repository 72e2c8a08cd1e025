import { generateKeyPairSync } from 'node:crypto'
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { beginRecording } from '../../src/acquisition/begin-recording.ts'
import { shortFingerprint } from '../../src/core/text/fingerprint-text.ts'
import { encodeLine } from '../../src/recording/format.ts'
import { fingerprintOf } from '../../src/recording/seal-signature.ts'
import { publicPem, writeKeyText } from '../../src/signing/key-file.ts'
import { runCommand } from '../harness/run-command.ts'
import { sampleStart } from '../harness/sample-start.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const { privateKey, publicKey } = generateKeyPairSync('ed25519')
const short = shortFingerprint(fingerprintOf(publicKey))
const signing = { privateKey: privateKey.export({ type: 'pkcs8', format: 'der' }).toString('base64'), chain: '' }
const stranger = generateKeyPairSync('ed25519').publicKey

/** A user with nothing but recordings NAME.run of one bench, made in this order. */
function userWith(user: string, names: readonly string[]) {
  const own = join(folder, user)
  mkdirSync(own, { recursive: true })
  writeFileSync(join(own, 'bench.pem'), publicPem(publicKey))
  writeFileSync(join(own, 'stranger.pem'), publicPem(stranger))
  for (const [i, name] of names.entries()) {
    const start = { ...sampleStart, id: `${user}-${name}`, at: `2026-01-05T09:0${i}:00.000Z` }
    const begun = beginRecording(join(own, `${name}.run`), start, { ...signing, chain: join(own, 'chain') })
    begun.recorder.append({ type: 'end', t: 10, reason: 'finished' })
    begun.sealLast(10)
    begun.recorder.close()
  }
  const files = names.map((name) => `${name}.run`)
  const check = async (...args: string[]) => {
    const { status, out, err } = await runCommand(own, ['check', ...args])
    return { status, lines: out.trimEnd().split('\n'), err }
  }
  return { own, files, check }
}

describe('Check', () => {
  test('says by which key a recording is signed, known here, given, or neither', async () => {
    const { own, check } = userWith('keys', ['a'])
    expect(await check('a.run')).toEqual({
      status: 0,
      err: '',
      lines: [`a.run: whole, sealed; signed by the key ${short}, which is not known here: name its file with --key`],
    })
    const given = await check('a.run', '--key', 'bench.pem')
    expect(given.status).toBe(0)
    expect(given.lines[0]).toBe(`a.run: whole, sealed; signed by this key, ${short}`)
    const other = await check('a.run', '--key', 'stranger.pem')
    expect(other.status).toBe(2)
    expect(other.lines[0]).toBe(`a.run: whole, sealed; not signed by this key: it names the key ${short}`)
    const home = join(own, 'home/data/makebreak/signing')
    mkdirSync(home, { recursive: true })
    writeFileSync(join(home, 'bench.key'), writeKeyText(privateKey, 'a passphrase that nobody is asked for'))
    expect((await check('a.run')).lines[0]).toBe(`a.run: whole, sealed; signed by the key of this bench, ${short}`)
  })

  test('says of a file that is given as a key and is none what it needs', async () => {
    const { own, check } = userWith('no-key', ['a'])
    const { status, err } = await check('a.run', '--key', 'a.run')
    expect(status).toBe(65)
    expect(err).toContain('The file a.run holds no public key of a bench (Ed25519, PEM).')
    expect((await check('a.run', '--key', 'nonesuch.pem')).err).toContain('Found no key file nonesuch.pem.')
    writeFileSync(join(own, 'rsa.pem'), publicPem(generateKeyPairSync('rsa', { modulusLength: 2048 }).publicKey))
    expect((await check('a.run', '--key', 'rsa.pem')).status).toBe(65)
  })

  test('takes a missing signature as no error, and as one where a key is given', async () => {
    const { own, check } = userWith('unsigned', ['a', 'b'])
    const text = readFileSync(join(own, 'b.run'), 'utf8')
    const from = text.lastIndexOf('\n', text.length - 2) + 1
    const { type, t, lines, sha256 } = JSON.parse(text.slice(from + 9))
    const bare = Buffer.concat([Buffer.from(text.slice(0, from)), encodeLine({ type, t, lines, sha256 })])
    writeFileSync(join(own, 'b.run'), bare)
    const told = await check('b.run')
    expect(told.status).toBe(0)
    expect(told.lines[0]).toContain('whole, sealed; not signed although its bench signs')
    expect((await check('b.run', '--key', 'bench.pem')).status).toBe(2)
  })

  test('finds a signature that does not fit, and one on a recording that says it is simulated', async () => {
    const { own, check } = userWith('forged', ['a'])
    const text = readFileSync(join(own, 'a.run'), 'utf8')
    const change = (act: (seal: { sig: string }) => void) => {
      const from = text.lastIndexOf('\n', text.length - 2) + 1
      const seal = JSON.parse(text.slice(from + 9))
      act(seal)
      writeFileSync(join(own, 'a.run'), Buffer.concat([Buffer.from(text.slice(0, from)), encodeLine(seal)]))
    }
    change((seal) => {
      seal.sig = Buffer.alloc(64, 7).toString('base64')
    })
    const told = await check('a.run', '--key', 'bench.pem')
    expect(told.status).toBe(2)
    expect(told.lines[0]).toBe(`a.run: whole, sealed; not signed by this key, ${short}: the signature does not fit`)

    const chain = join(own, 'other-chain')
    const begun = beginRecording(join(own, 'simulated.run'), { ...sampleStart, simulated: true }, { ...signing, chain })
    begun.recorder.append({ type: 'end', t: 10, reason: 'finished' })
    begun.sealLast(10)
    begun.recorder.close()
    const simulated = await check('simulated.run', '--key', 'bench.pem')
    expect(simulated.status).toBe(2)
    expect(simulated.lines[0]).toContain(`signed by the key ${short} although it is simulated: no bench does that`)
  })

  test('tells a chain from its first to its last recording, and the one of ten that was removed', async () => {
    const names = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h', 'i', 'j']
    const { own, files, check } = userWith('chain', names)
    const whole = await check(...files, '--key', 'bench.pem')
    expect(whole.status).toBe(0)
    expect(whole.lines.slice(10)).toEqual([
      'Chain: unbroken from a.run to j.run, 10 recordings, and none came before.',
      'Whether one after j.run is missing shows only against the ledger or the numbers on paper.',
    ])
    rmSync(join(own, 'e.run'))
    const gap = await check(...files.filter((name) => name !== 'e.run'))
    expect(gap.status).toBe(2)
    expect(gap.lines.slice(9)).toEqual([
      'Chain: unbroken from a.run to d.run, 4 recordings, and none came before.',
      expect.stringMatching(
        /^Gap: before f\.run a recording is missing, that with the SHA-256 [0-9a-f ]{19}… of its last line\.$/,
      ),
      'Chain: unbroken from f.run to j.run, 5 recordings.',
      'Whether one after j.run is missing shows only against the ledger or the numbers on paper.',
    ])
    const late = await check(...files.slice(5))
    expect(late.status).toBe(0)
    expect(late.lines.slice(5)).toEqual([
      'Chain: unbroken from f.run to j.run, 5 recordings.',
      'What came before f.run is not among these.',
      'Whether one after j.run is missing shows only against the ledger or the numbers on paper.',
    ])
  })
})
