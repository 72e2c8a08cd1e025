import { spawn, spawnSync } from 'node:child_process'
import { generateKeyPairSync } from 'node:crypto'
import { appendFileSync, readdirSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { type Begun, beginRecording } from '../../src/acquisition/begin-recording.ts'
import { joinChain, leaveChain } from '../../src/recording/bench-chain.ts'
import { type Chained, checkChain } from '../../src/recording/check-chain.ts'
import { createReader } from '../../src/recording/read.ts'
import { fingerprintOf } from '../../src/recording/seal-signature.ts'
import { sampleStart } from '../harness/sample-start.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const pair = generateKeyPairSync('ed25519')
const privateKey = pair.privateKey.export({ type: 'pkcs8', format: 'der' }).toString('base64')
const key = fingerprintOf(pair.publicKey)
let made = 0

/** A bench with a chain of its own. */
function createBench() {
  const chain = join(folder, `chain-${++made}`)
  const bench = made
  const pathOf = (name: string) => join(folder, `${bench}-${name}.run`)
  let minute = 0
  const begin = (name: string): Begun =>
    beginRecording(
      pathOf(name),
      { ...sampleStart, id: name, at: `2026-01-05T09:${String(minute++).padStart(2, '0')}:00.000Z` },
      { privateKey, chain },
    )
  const finish = ({ recorder, sealLast }: Begun) => {
    recorder.append({ type: 'end', t: 10, reason: 'finished' })
    sealLast(10)
    recorder.close()
  }
  const record = (...names: string[]) => {
    for (const name of names) finish(begin(name))
  }
  return { chain, pathOf, begin, finish, record }
}

function chained(path: string): Chained {
  const reader = createReader()
  const [start] = [...reader.push(readFileSync(path)), ...reader.finish()]
  if (start?.type !== 'start') throw new Error('no start')
  return { name: start.id, at: start.at, previous: start.previous ?? null, digests: reader.digests() }
}

test('recordings of a bench follow each other, in whatever order they are looked at', () => {
  const bench = createBench()
  const names = ['a', 'b', 'c', 'd']
  bench.record(...names)
  const files = names.map((name) => chained(bench.pathOf(name)))
  const whole = { stretches: [{ names, key, before: { kind: 'nothing' } }], overlaps: [] }
  expect(checkChain(files)).toEqual(whole)
  expect(checkChain([...files.toReversed(), files[1]!])).toEqual(whole)
  // A clock that was set back.
  expect(checkChain(files.map((file, i) => ({ ...file, at: `${9 - i}` })))).toEqual(whole)
})

test('the removal of one of ten is found, whichever it is; of the last one nothing shows', () => {
  const bench = createBench()
  const names = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h', 'i', 'j']
  bench.record(...names)
  const files = names.map((name) => chained(bench.pathOf(name)))
  for (const [i, { digests }] of files.entries()) {
    const { stretches } = checkChain(files.toSpliced(i, 1))
    const missing = { kind: 'missing', digest: digests.seal?.digest }
    if (i === 0) expect(stretches).toEqual([{ names: names.slice(1), key, before: missing }])
    else if (i === 9) expect(stretches).toEqual([{ names: names.slice(0, 9), key, before: { kind: 'nothing' } }])
    else
      expect(stretches).toEqual([
        { names: names.slice(0, i), key, before: { kind: 'nothing' } },
        { names: names.slice(i + 1), key, before: missing },
      ])
  }
})

test('one that begins while another is still made follows its first line, and that is named', () => {
  const bench = createBench()
  const first = bench.begin('a')
  const second = bench.begin('b')
  bench.finish(second)
  bench.finish(first)
  bench.record('c')
  const files = ['a', 'b', 'c'].map((name) => chained(bench.pathOf(name)))
  expect(checkChain(files)).toEqual({
    stretches: [{ names: ['a', 'b', 'c'], key, before: { kind: 'nothing' } }],
    overlaps: [{ name: 'b', before: 'a' }],
  })
})

test('one whose process was killed is followed by its digest as it is found, torn or sealed by another', () => {
  const bench = createBench()
  const program = `
    import { beginRecording } from ${JSON.stringify(new URL('../../src/acquisition/begin-recording.ts', import.meta.url).href)}
    const [file, start, signing] = JSON.parse(process.argv[1])
    const { recorder } = beginRecording(file, start, signing)
    recorder.append({ type: 'tick', t: 5 })
    process.kill(process.pid, 'SIGKILL')`
  const kill = (name: string) => {
    const start = { ...sampleStart, id: name, at: '2026-01-05T09:00:30.000Z' }
    const given = JSON.stringify([bench.pathOf(name), start, { privateKey, chain: bench.chain }])
    const { signal } = spawnSync(process.execPath, ['--input-type=module', '-e', program, given])
    expect(signal).toBe('SIGKILL')
  }
  bench.record('a')
  kill('b')
  appendFileSync(bench.pathOf('b'), '1c291ca3 {"type":"ma')
  bench.record('c')
  const files = ['a', 'b', 'c'].map((name) => chained(bench.pathOf(name)))
  expect(files[2]?.previous).toBe(files[1]?.digests.whole)
  expect(checkChain(files).stretches).toHaveLength(1)

  kill('d')
  rmSync(bench.pathOf('d'))
  bench.record('e')
  const left = [...files, chained(bench.pathOf('e'))]
  expect(checkChain(left).stretches).toMatchObject([{ names: ['a', 'b', 'c'] }, { before: { kind: 'missing' } }])
})

test('two that follow the same one are told as a fork', () => {
  const bench = createBench()
  bench.record('a', 'b')
  // As from a copy of the folder, taken before.
  leaveChain(bench.chain, bench.pathOf('b'))
  bench.record('c', 'd')
  const files = ['a', 'b', 'c', 'd'].map((name) => chained(bench.pathOf(name)))
  expect(checkChain(files).stretches).toEqual([
    { names: ['a', 'b'], key, before: { kind: 'nothing' } },
    { names: ['c', 'd'], key, before: { kind: 'fork', from: 'a' } },
  ])
})

test('a recording that cannot be created, or that is given up, leaves no gap', () => {
  const bench = createBench()
  bench.record('a')
  expect(() => bench.begin('a')).toThrow('is already there')
  const empty = bench.begin('b')
  bench.finish(empty)
  rmSync(bench.pathOf('b'))
  leaveChain(bench.chain, bench.pathOf('b'))
  bench.record('c')
  expect(checkChain(['a', 'c'].map((name) => chained(bench.pathOf(name)))).stretches).toMatchObject([
    { names: ['a', 'c'] },
  ])
})

test('what is no entry in the folder of the chain begins a second chain, which shows', () => {
  const bench = createBench()
  bench.record('a')
  writeFileSync(join(bench.chain, '1.json'), '{"fi')
  bench.record('b')
  expect(checkChain(['a', 'b'].map((name) => chained(bench.pathOf(name)))).stretches).toMatchObject([
    { before: { kind: 'nothing' } },
    { before: { kind: 'nothing' } },
  ])
})

test('old places are given up after an hour: before that a slow program could take one again', () => {
  const chain = join(folder, 'long')
  const joinAs = (i: number) => joinChain(chain, `r${i}`, () => `d${i}`).previous
  for (let i = 1; i <= 13; i++) expect(joinAs(i)).toBe(i === 1 ? null : `d${i - 1}`)
  expect(readdirSync(chain)).toHaveLength(13)
  const longAgo = Date.now() / 1000 - 2 * 3600
  for (const name of readdirSync(chain)) utimesSync(join(chain, name), longAgo, longAgo)
  expect(joinAs(14)).toBe('d13')
  expect(readdirSync(chain)).toHaveLength(11)
})

test('programs that take a place at once get one each', async () => {
  const chain = join(folder, 'at-once')
  const program = `
    import { joinChain } from ${JSON.stringify(new URL('../../src/recording/bench-chain.ts', import.meta.url).href)}
    const [chain, name] = process.argv.slice(1)
    for (let i = 0; i < 20; i++) console.log(name + i, joinChain(chain, name + i, () => name + i).previous)`
  const said = await Promise.all(
    ['x', 'y', 'z'].map(
      (name) =>
        new Promise<string>((done) => {
          const child = spawn(process.execPath, ['--input-type=module', '-e', program, chain, name])
          let out = ''
          child.stdout.on('data', (text) => {
            out += text
          })
          child.on('close', () => done(out))
        }),
    ),
  )
  const followed = said.flatMap((out) =>
    out
      .trim()
      .split('\n')
      .map((line) => line.split(' ')[1]),
  )
  expect(followed).toHaveLength(60)
  expect(new Set(followed).size).toBe(60)
})
