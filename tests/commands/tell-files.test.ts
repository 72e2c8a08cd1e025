import { readdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterEach, describe, expect, test, vi } from 'vitest'
import { checkFile } from '../../src/commands/check.ts'
import { createReplay } from '../../src/commands/replay.ts'
import { type Job, type TellFile, tellFiles } from '../../src/commands/tell-files.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { until } from '../harness/until.ts'

const recordings = fileURLToPath(new URL('../../recordings/', import.meta.url))
const empty = join(temporaryFolder(), 'empty.run')
writeFileSync(empty, '')
const golden = readdirSync(recordings).filter((name) => name.endsWith('.run'))
const files = [...golden.slice(0, 3), empty, ...golden.slice(3, 5), 'nonesuch.run'].map((name) =>
  join(recordings, name),
)
files[3] = empty

const err = process.stderr.write
const isTTY = process.stderr.isTTY
afterEach(() => {
  process.stderr.write = err
  process.stderr.isTTY = isTTY
  vi.unstubAllEnvs()
})

/** What comes out with so many threads, standard output and standard error in the order in which they are written. */
async function told(job: Job, tellFile: TellFile, cores: number, from = files, terminal = false) {
  const out: string[] = []
  process.stderr.isTTY = terminal
  process.stderr.write = (text: string | Uint8Array) => out.push(`! ${text}`) > 0
  const status = await tellFiles(from, { job, tellFile, print: (line) => out.push(line) }, cores)
  return { status, out }
}

const check: Job = { name: 'check', options: {} }
/** A thread that is given this fails. */
const broken = { name: 'replay', options: null } as unknown as Job
const json: Job = { name: 'replay', options: { json: true } }

describe('Many files', () => {
  test.each([
    { job: check, create: async () => checkFile },
    { job: json, create: () => createReplay({ json: true }) },
    { job: { name: 'replay', options: {} } satisfies Job, create: () => createReplay({}) },
  ])('are told the same by one thread and by three: case %#', async ({ job, create }) => {
    const alone = await told(job, await create(), 1)
    expect(alone.status).toBe(65)
    expect(await told(job, await create(), 3)).toEqual(alone)
  })

  test('come out in the order given although the first is told last, and how many are done shows meanwhile', async () => {
    const seen: string[] = []
    const slow: TellFile = async (file) => {
      const { length } = files
      await until(() => seen.some((text) => text.includes(`${length - 1} of ${length} files`)), 'the other files')
      return { status: 0, lines: [`slow ${file}`], wrong: null }
    }
    process.stderr.isTTY = true
    process.stderr.write = (text: string | Uint8Array) => seen.push(`${text}`) > 0
    const out: string[] = []
    expect(await tellFiles(files, { job: check, tellFile: slow, print: (line) => out.push(line) }, 2)).toBe(65)
    expect(out[0]).toBe(`slow ${files[0]}`)
    expect(out.slice(1).map((line) => line.split(':')[0])).toEqual([1, 2, 4, 5].map((place) => files[place]))
    expect(seen.at(-1)).toBe('\r\x1b[K')
  })

  test('on a thread that fails end with its fault, and nothing is waited for', async () => {
    const never: TellFile = () => new Promise(() => {})
    await expect(told(broken, never, 2)).rejects.toThrow(/properties of null/)
  })
})

const lines: TellFile = async (file) => ({ status: 0, lines: [file], wrong: null })

test('One file, or one core, needs no thread of its own.', async () => {
  expect((await told(broken, lines, 8, ['a'])).out).toEqual(['a'])
  expect((await told(broken, lines, 1, ['a', 'b'])).out).toEqual(['a', 'b'])
})

describe('How many are done', () => {
  test('is one line of the terminal, written over, and away before anything else is printed', async () => {
    const { out } = await told(check, lines, 1, ['a', 'b'], true)
    const away = '! \r\x1b[K'
    expect(out).toEqual([
      `${away}0 of 2 files`,
      away,
      'a',
      `${away}1 of 2 files`,
      away,
      'b',
      `${away}2 of 2 files`,
      away,
    ])
  })

  test('is not told in a pipe, of one file, or where the screen is read aloud', async () => {
    expect((await told(check, lines, 1, ['a', 'b'])).out).toEqual(['a', 'b'])
    expect((await told(check, lines, 1, ['a'], true)).out).toEqual(['a'])
    vi.stubEnv('INK_SCREEN_READER', 'true')
    expect((await told(check, lines, 1, ['a', 'b'], true)).out).toEqual(['a', 'b'])
  })
})
