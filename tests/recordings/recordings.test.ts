// Every recording in recordings/, found by itself: replayed, cut, torn and damaged.
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, describe, expect, test } from 'vitest'
import { tell } from '../../src/commands/describe-run.ts'
import { type Run, step } from '../../src/core/intake/run.ts'
import type { RecordedEvent } from '../../src/core/model/event.ts'
import type { Result } from '../../src/core/model/result.ts'
import { createReader } from '../../src/recording/read.ts'
import { createRandom } from '../../src/simulation/random.ts'
import { newRun } from '../harness/fold-events.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { goldenFolder, goldenNames, replayGolden } from './golden.ts'

const folder = temporaryFolder()
const read = (name: string) => readFileSync(join(goldenFolder, name))
const json = (name: string) => JSON.parse(read(name).toString())
const listed = readdirSync(goldenFolder)

let replayed: Map<string, Result>
beforeAll(async () => {
  replayed = await replayGolden(folder)
})

/** The rows of the table in recordings/README.md, as cells. */
const rows = read('README.md')
  .toString()
  .split('\n')
  .filter((line) => /^\| `/.test(line))
  .map((line) =>
    line
      .split('|')
      .slice(1, -1)
      .map((cell) => cell.trim().replaceAll('`', '')),
  )

test('the table names exactly the recordings that are there, each with the verdict and findings it has', () => {
  expect(rows.map(([name]) => name)).toEqual(rows.map(([name]) => name).sort())
  expect(rows.map(([name, verdict, findings]) => [name, verdict, findings])).toEqual(
    goldenNames.map((name) => {
      const { verdict, findings } = json(`${name}.expected.json`) as Result
      return [`${name}.run`, verdict, findings.map((f) => f.code).join(', ')]
    }),
  )
  const companions = goldenNames.flatMap((name) => [`${name}.run`, `${name}.expected.json`, `${name}.truth.json`])
  expect(listed.filter((name) => name !== 'README.md' && !companions.includes(name))).toEqual([])
})

describe.each(goldenNames)('recording %s', (name) => {
  const bytes = read(`${name}.run`)
  const expected = json(`${name}.expected.json`) as Result
  const lastLine = bytes.lastIndexOf('\n', bytes.length - 2) + 1

  test('replays to its expected result', () => {
    expect(differences(replayed.get(name), expected)).toEqual([])
  })

  test.runIf(listed.includes(`${name}.truth.json`))('finds what was true of its bench, and nothing else', () => {
    const truth = json(`${name}.truth.json`)
    expect(expected.verdict).toBe(truth.expected.verdict)
    // Their short plans leave hose and leak open near a limit.
    const told = expected.findings.map((f) => f.code).filter((code) => !code.endsWith('-not-proved'))
    expect(told).toEqual(truth.expected.findings)
    for (const quantity of ['make', 'break'] as const) {
      const { valuePa, UPa } = expected[quantity]
      if (valuePa !== null && UPa !== null) expect(Math.abs(valuePa - truth[`${quantity}Pa`])).toBeLessThan(UPa)
    }
  })

  test('gives the same result however its bytes are split', () => {
    const whole = eventsOf([bytes])
    expect(differences(resultOf(whole), expected)).toEqual([])
    const random = createRandom(1).fork(name)
    for (const meanBytes of [3, 300, 30_000]) {
      const pieces = splitAtRandom(bytes, () => 1 + Math.floor(random.exponential(meanBytes)))
      // The same events have the same result.
      expect(same(eventsOf(pieces), whole)).toBe(true)
    }
  })

  test('opens when it is cut short at any byte: only the cut line is lost, and that is said', () => {
    // `finish` leaves the reader as it is, so that one pass can end after each byte.
    const reader = createReader()
    const firstLine = bytes.indexOf('\n') + 1
    let events = 0
    let lineStart = 0
    for (let size = 1; size <= bytes.length; size++) {
      events += reader.push(bytes.subarray(size - 1, size)).length
      if (bytes[size - 1] === 10) lineStart = size
      if (size < firstLine) continue
      const torn = size - lineStart
      const said = reader.finish()
      const [only] = said
      const right = torn === 0 ? !only : said.length === 1 && only?.type === 'torn' && only.bytes === torn
      if (!right) throw new Error(`cut to ${size} bytes, ${torn} of them after a line's end, it says ${show(said)}`)
    }
    expect(events).toBe(bytes.toString().split('\n').length - 1)
  })

  test('never passes when it is cut short', () => {
    const random = createRandom(2).fork(name)
    const anywhere = Array.from({ length: 4 }, () => Math.floor(random.between(bytes.indexOf('\n') + 1, lastLine)))
    // One pass over the file, ended at each cut: what is read and folded up to there is what a file cut there would give.
    const reader = createReader()
    let run = newRun()
    let from = 0
    for (const size of [...anywhere, lastLine, bytes.length - 1].sort((a, b) => a - b)) {
      run = foldAll(run, reader.push(bytes.subarray(from, size)))
      from = size
      const { verdict, damage } = tell(foldAll(run, reader.finish())).result
      expect(['fail', 'undecided', 'void', 'not-assessed']).toContain(verdict)
      expect(damage).toEqual({ torn: bytes[size - 1] !== 10, corruptLines: [], seal: 'missing' })
    }
  })

  test('names the line of each bit that is flipped before its last line, and is void', () => {
    const random = createRandom(3).fork(name)
    for (let i = 0; i < 40; i++) {
      const at = Math.floor(random.between(0, lastLine))
      const damaged = Buffer.from(bytes)
      damaged[at]! ^= 1 << Math.floor(random.between(0, 8))
      const line = bytes.subarray(0, at).toString('latin1').split('\n').length
      // The line is named as soon as it has come, be it joined with the next; to the end only where the result is wanted.
      const verdict = i < 2 && line > 1
      const events = eventsOf([verdict ? damaged : damaged.subarray(0, nextLineEnd(bytes, at))])
      expect(events.flatMap((e) => (e.type === 'corrupt' ? [e.line] : []))).toContain(line)
      if (verdict) expect(resultOf(events)).toMatchObject({ verdict: 'void' })
    }
  })
})

/** Where the line after the one that holds the byte `at` ends, torn or not. */
const nextLineEnd = (bytes: Buffer, at: number) => bytes.indexOf('\n', bytes.indexOf('\n', at) + 1) + 1 || bytes.length

function eventsOf(pieces: Iterable<Buffer>): RecordedEvent[] {
  const reader = createReader()
  const events: RecordedEvent[] = []
  for (const piece of pieces) events.push(...reader.push(piece))
  return [...events, ...reader.finish()]
}

const foldAll = (run: Run, events: readonly RecordedEvent[]): Run => events.reduce(step, run)
const resultOf = (events: readonly RecordedEvent[]): Result => tell(foldAll(newRun(), events)).result

function* splitAtRandom(bytes: Buffer, length: () => number): Generator<Buffer> {
  for (let from = 0, to = 0; from < bytes.length; from = to) {
    to = Math.min(from + length(), bytes.length)
    yield bytes.subarray(from, to)
  }
}

const show = (value: unknown): string => JSON.stringify(value)
const same = (a: unknown, b: unknown): boolean => show(a) === show(b)

/** Where two JSON values differ: numbers by more than 1e-9 of the larger, anything else at all. */
function differences(actual: unknown, expected: unknown, path = ''): string[] {
  if (typeof actual === 'number' && typeof expected === 'number') {
    const off = Math.abs(actual - expected)
    return off <= 1e-9 * Math.max(Math.abs(actual), Math.abs(expected)) ? [] : [`${path}: ${actual}, not ${expected}`]
  }
  if (!isObject(actual) || !isObject(expected) || Array.isArray(actual) !== Array.isArray(expected))
    return Object.is(actual, expected) ? [] : [`${path}: ${show(actual)}, not ${show(expected)}`]
  const keys = new Set([...Object.keys(actual), ...Object.keys(expected)])
  return [...keys].flatMap((key) => differences(actual[key], expected[key], `${path}.${key}`))
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null
}
