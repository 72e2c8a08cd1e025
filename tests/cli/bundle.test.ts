// `bundle` and `check` of one: all that proves a recording in one file, checked with common tools as its own text says.
import { execFileSync } from 'node:child_process'
import { createHash, generateKeyPairSync } from 'node:crypto'
import { cpSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { unzipSync, zipSync } from 'fflate'
import { beforeAll, describe, expect, test } from 'vitest'
import { fingerprintOf } from '../../src/recording/seal-signature.ts'
import { publicPem, writeKeyText } from '../../src/signing/key-file.ts'
import { ownDriver } from '../harness/own-driver.ts'
import { readPdf } from '../harness/read-pdf.ts'
import { realRecording } from '../harness/real-recording.ts'
import { runCommand } from '../harness/run-command.ts'
import { runProgram } from '../harness/run-program.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const run = (...args: string[]) => runCommand(folder, args)
const path = (name: string) => join(folder, name)
const golden = (name: string) => new URL(`../../recordings/${name}.run`, import.meta.url).pathname
const { privateKey, publicKey } = generateKeyPairSync('ed25519')
const key = fingerprintOf(publicKey)
const sha256 = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex')

beforeAll(async () => {
  await run('check', 'none.run')
  const signing = path('home/data/makebreak/signing')
  mkdirSync(signing, { recursive: true })
  writeFileSync(join(signing, 'bench.key'), writeKeyText(privateKey, null), { mode: 0o600 })
  writeFileSync(path('bench.pem'), publicPem(publicKey))
  cpSync(golden('off-high-2'), path('simulated.run'))
  realRecording(golden('good-1'), path('real.run'), {}, privateKey)
  realRecording(golden('good-1'), path('unsigned.run'), { id: 'unsigned' })
  writeFileSync(path('torn.run'), readFileSync(path('unsigned.run')).subarray(0, -40))
})

/** The bundle unpacked into a folder of its own, as the customer does. */
function unpack(bundle: string): string {
  const into = `${path(bundle)}-unpacked`
  for (const [name, bytes] of Object.entries(unzipSync(readFileSync(path(bundle))))) {
    mkdirSync(join(into, 'drivers'), { recursive: true })
    writeFileSync(join(into, name), bytes)
  }
  return into
}

/** Types what HOW-TO-CHECK.txt says to, and gives what came out beside what has to. */
function follow(into: string): { typed: string; came: string; expected: string }[] {
  const steps: { typed: string; expected: string }[] = []
  for (const line of readFileSync(join(into, 'HOW-TO-CHECK.txt'), 'utf8').split('\n'))
    if (line.startsWith('    $ ')) steps.push({ typed: line.slice(6), expected: '' })
    else if (line.startsWith('    ')) steps.at(-1)!.expected += `${line.slice(4)}\n`
  return steps.map((step) => {
    const came = execFileSync('bash', ['--norc', '-c', step.typed], {
      cwd: into,
      encoding: 'utf8',
      env: { PATH: process.env['PATH'], LC_ALL: 'C' },
    })
    return { ...step, came }
  })
}

describe('A bundle', () => {
  test('holds recording, result, report, key and a text; followed word for word it comes out as it says', async () => {
    const { status, out, err } = await run('bundle', 'real.run', '--out', 'one')
    expect({ status, err, out }).toEqual({ status: 0, err: '', out: `${join('one', 'real-bundle.zip')}\n` })
    const into = unpack('one/real-bundle.zip')
    const files = unzipSync(readFileSync(path('one/real-bundle.zip')))
    const pem = `bench-${key.slice(0, 8)}.pem`
    expect(Object.keys(files)).toEqual([
      'real.run',
      'real.json',
      'real-report.pdf',
      pem,
      'HOW-TO-CHECK.txt',
      'SHA256SUMS',
    ])
    expect(Buffer.from(files['real.run']!).equals(readFileSync(path('real.run')))).toBe(true)
    const steps = follow(into)
    expect(steps.length).toBeGreaterThanOrEqual(9)
    for (const { typed, came, expected } of steps) expect(`${typed}\n${came}`).toBe(`${typed}\n${expected}`)
    expect(steps.map(({ came }) => came)).toContain('Signature Verified Successfully\n')
    expect(steps.map(({ came }) => came)).toContain(`${key}  -\n`)
  })

  test('has the result that replay gives, and the report that report writes, by the same number', async () => {
    const files = unzipSync(readFileSync(path('one/real-bundle.zip')))
    const { out } = await run('replay', 'real.run', '--json')
    expect(JSON.parse(Buffer.from(files['real.json']!).toString())).toEqual(JSON.parse(out))
    await run('report', 'real.run', '--out', 'one')
    const report = readFileSync(path('one/real-report.pdf'))
    expect(sha256(files['real-report.pdf']!)).toBe(sha256(report))
    expect((await readPdf(report)).pages[0]!.text).not.toContain('not allotted')
  })

  test('of several holds them all, with names that can be typed, and is the same file each time', async () => {
    const odd = ["it's $(x).run", '日本.run', '-rf.run', 'REAL.run']
    for (const name of odd) cpSync(path('unsigned.run'), path(name))
    const named = ['real.run', 'simulated.run', 'torn.run', ...odd.map((name) => `./${name}`)]
    expect((await run('bundle', ...named, '--out', 'lot')).status).toBe(0)
    const first = readFileSync(path('lot/bundle.zip'))
    expect((await run('bundle', ...named, '--out', 'lot')).status).toBe(0)
    expect(readFileSync(path('lot/bundle.zip')).equals(first)).toBe(true)
    const into = unpack('lot/bundle.zip')
    const text = readFileSync(join(into, 'HOW-TO-CHECK.txt'), 'utf8')
    expect(text).toContain('simulated.run: SIMULATED FAIL, no real part was tested')
    expect(text).toContain('torn.run: UNDECIDED')
    expect(text).toContain('It does not end with a seal that holds')
    expect(text).toContain('It is not signed: its seal shows accident, not intent.')
    for (const { typed, came, expected } of follow(into)) expect(`${typed}\n${came}`).toBe(`${typed}\n${expected}`)
    const names = Object.keys(unzipSync(first))
    expect(new Set(names.map((name) => name.toLowerCase())).size).toBe(names.length)
    expect(names.filter((name) => name.endsWith('.run'))).toHaveLength(named.length)
    const checked = await run('check', 'lot/bundle.zip')
    expect(checked.status).toBe(2)
    expect(checked.out).toContain('simulated.json says SIMULATED FAIL')
  })

  test('is not written where one of the recordings cannot be read', async () => {
    writeFileSync(path('other.run'), 'no recording\n')
    const { status, err } = await run('bundle', 'real.run', 'other.run', '--out', 'none')
    expect(status).toBe(65)
    expect(err).toContain('other.run')
    expect(existsSync(path('none'))).toBe(false)
  })

  test('holds the driver that recorded it, and says so where its file is another by now', async () => {
    const user = path('user')
    const drivers = join(user, 'home/config/makebreak/drivers')
    mkdirSync(drivers, { recursive: true })
    writeFileSync(join(drivers, 'my-line.mjs'), ownDriver('my-line'))
    const digest = sha256(readFileSync(join(drivers, 'my-line.mjs')))
    realRecording(golden('good-1'), join(user, 'own.run'), { drivers: { 'my-line': digest } })
    expect(await runProgram(user, ['bundle', 'own.run'])).toMatchObject({ status: 0, err: '' })
    const into = unpack('user/own-bundle.zip')
    expect(existsSync(join(into, 'drivers/my-line.mjs'))).toBe(true)
    for (const { typed, came, expected } of follow(into)) expect(`${typed}\n${came}`).toBe(`${typed}\n${expected}`)
    const checked = await runProgram(user, ['check', 'own-bundle.zip'])
    expect(checked.out).toContain('its driver my-line is the one that recorded it')
    writeFileSync(join(drivers, 'my-line.mjs'), `${ownDriver('my-line')}\n`)
    await runProgram(user, ['bundle', 'own.run', '--out', 'later'])
    const later = unpack('user/later/own-bundle.zip')
    expect(existsSync(join(later, 'drivers/my-line.mjs'))).toBe(false)
    expect(readFileSync(join(later, 'HOW-TO-CHECK.txt'), 'utf8')).toContain('The file of my-line is not in this bundle')
  })
})

describe('Check', () => {
  /** The bundle of real.run with some files otherwise. */
  const changed = (name: string, change: (files: Record<string, Uint8Array>) => void) => {
    const files = unzipSync(readFileSync(path('one/real-bundle.zip')))
    change(files)
    writeFileSync(path(name), zipSync(files))
    return run('check', name)
  }
  /** Lists all files once more, as whoever changes one does. */
  const listAgain = (files: Record<string, Uint8Array>) => {
    const lines = Object.entries(files).flatMap(([name, bytes]) =>
      name === 'SHA256SUMS' ? [] : [`${sha256(bytes)}  ${name}\n`],
    )
    files['SHA256SUMS'] = Buffer.from(lines.join(''))
  }

  test('says of a whole bundle that all is there, who signed, and that the result comes out again', async () => {
    const { status, out, err } = await run('check', 'one/real-bundle.zip')
    expect({ status, err }).toEqual({ status: 0, err: '' })
    const [first, second, ...more] = out.trimEnd().split('\n')
    expect(first).toBe('one/real-bundle.zip: bundle of 1 recording; all 6 files are there, as its list says')
    expect(second).toMatch(
      /^one\/real-bundle\.zip, real\.run: whole, sealed; signed by the key of this bench, [0-9a-f ]+; real\.json says PASS, and so comes out of it today$/,
    )
    expect(more).toEqual([])
  })

  test('tells the chain of the recordings in it, and a gap without calling the bundle wrong', async () => {
    for (const [i, [before, name]] of [['real', 'second'] as const, ['second', 'third'] as const].entries()) {
      const lines = readFileSync(path(`${before}.run`), 'utf8')
        .trimEnd()
        .split('\n')
      const start = {
        id: name,
        at: `2026-02-0${4 + i}T08:00:00.000Z`,
        previous: sha256(Buffer.from(`${lines.at(-1)}\n`)),
      }
      realRecording(golden('good-1'), path(`${name}.run`), start, privateKey)
    }
    await run('bundle', 'real.run', 'second.run', 'third.run', '--out', 'chain')
    const whole = await run('check', 'chain/bundle.zip')
    expect(whole.status).toBe(0)
    expect(whole.out).toContain('bundle.zip: Chain: unbroken from real.run to third.run, 3 recordings')
    expect(whole.out).not.toContain('leave recordings of its bench out')
    await run('bundle', 'real.run', 'third.run', '--out', 'gap')
    const gap = await run('check', 'gap/bundle.zip')
    expect(gap.status).toBe(0)
    expect(gap.out).toContain('bundle.zip: Gap: before third.run a recording is missing')
    expect(gap.out).toContain('bundle.zip: A bundle may leave recordings of its bench out')
  })

  test('tells a customer who knows no key that the one in the bundle proves itself only by paper', async () => {
    const customer = path('customer')
    mkdirSync(customer)
    cpSync(path('one/real-bundle.zip'), join(customer, 'real.zip'))
    cpSync(path('bench.pem'), join(customer, 'bench.pem'))
    const alone = await runCommand(customer, ['check', 'real.zip'])
    expect(alone.status).toBe(0)
    expect(alone.out).toContain('signed by the key in real.zip, bench-')
    expect(alone.out).toContain(`only by its fingerprint on paper: ${key}`)
    const given = await runCommand(customer, ['check', 'real.zip', '--key', 'bench.pem'])
    expect(given.status).toBe(0)
    expect(given.out).toContain('signed by this key')
    expect(given.out).not.toContain('on paper')
  })

  test('finds a changed, a missing and an added file', async () => {
    const other = await changed('changed.zip', (files) => {
      files['real-report.pdf'] = Buffer.from('%PDF-1.7 PASS')
    })
    expect(other).toMatchObject({ status: 2, out: expect.stringContaining('real-report.pdf was CHANGED') })
    const less = await changed('less.zip', (files) => {
      delete files['real-report.pdf']
    })
    expect(less).toMatchObject({ status: 2, out: expect.stringContaining('real-report.pdf is missing') })
    const more = await changed('more.zip', (files) => {
      files['more.pdf'] = Buffer.from('x')
    })
    expect(more).toMatchObject({ status: 2, out: expect.stringContaining('more.pdf is not in its list') })
  })

  test('finds a forged result and a forged recording, though their list was made once more', async () => {
    const result = await changed('result.zip', (files) => {
      files['real.json'] = Buffer.from(Buffer.from(files['real.json']!).toString().replace('"pass"', '"fail"'))
      listAgain(files)
    })
    expect(result).toMatchObject({
      status: 2,
      out: expect.stringContaining('real.json says FAIL, but PASS comes out of it today'),
    })
    realRecording(path('real.run'), path('forged.run'), { operator: 'another' })
    const recording = await changed('recording.zip', (files) => {
      files['real.run'] = readFileSync(path('forged.run'))
      listAgain(files)
    })
    expect(recording.out).toContain('not signed')
    const withKey = await run('check', 'recording.zip', '--key', 'bench.pem')
    expect(withKey).toMatchObject({ status: 2, out: expect.stringContaining('not signed by this key') })
  })

  test('refuses a path that leaves its folder, and what is no bundle, in one sentence; nothing is unpacked', async () => {
    writeFileSync(path('evil.zip'), zipSync({ '../evil.run': Buffer.from('x') }))
    const { status, err } = await run('check', 'evil.zip')
    expect(status).toBe(65)
    expect(err).toContain('evil.zip holds a file "../evil.run", which a bundle cannot hold.')
    expect(existsSync(join(folder, '..', 'evil.run'))).toBe(false)
    writeFileSync(path('empty.zip'), zipSync({ 'HOW-TO-CHECK.txt': Buffer.from('x') }))
    expect((await run('check', 'empty.zip')).err).toContain('empty.zip holds no recording.')
    writeFileSync(path('cut.zip'), readFileSync(path('one/real-bundle.zip')).subarray(0, 5000))
    expect((await run('check', 'cut.zip')).err).toContain('cut.zip cannot be read as a .zip')
  })
})
