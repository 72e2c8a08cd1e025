import { spawn } from 'node:child_process'
import { createHash } from 'node:crypto'
import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { findNumbered, type NumberAsked, numberOf } from '../../src/numbers/number-of.ts'
import { numberText, parseNumber, prefixOf } from '../../src/numbers/number-text.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
const digest = (text: string) => createHash('sha256').update(text).digest('hex')
const asked = (into: string, recording: string, result: string, more: Partial<NumberAsked> = {}): NumberAsked => ({
  folder: join(folder, into),
  fingerprint: `3f9c${'0'.repeat(60)}`,
  recordingDigest: digest(recording),
  resultDigest: digest(result),
  at: new Date('2027-03-14T09:15:00Z'),
  why: 'The verdict was PASS and is UNDECIDED now.',
  ...more,
})

test('a number is prefix, year and count, in capitals, digits and spaces alone, and is read back however it is typed', () => {
  const number = { prefix: prefixOf('3f9c'.padEnd(64, '0')), year: 2027, count: 42 }
  expect(numberText(number)).toBe('3F9C 2027 0042')
  for (const typed of ['3F9C 2027 0042', ' 3f9c 2027 0042\n', '3F9C20270042', '3f9c-2027-0042'])
    expect(parseNumber(typed)).toEqual(number)
  expect(parseNumber(numberText({ ...number, count: 123_456 }))).toEqual({ ...number, count: 123_456 })
  for (const other of ['', 'A1047', '3F9C 2027 0000', '3G9C 2027 0042', '3F9C 2027 42', '../2027 0042'])
    expect(parseNumber(other)).toBeNull()
})

test('the first report of a recording and its result gets a number, and the same again whenever it is asked for', () => {
  const first = numberOf(asked('first', 'a', 'pass'))
  expect(first).toMatchObject({ number: '3F9C 2027 0001', amends: null })
  expect(numberOf(asked('first', 'a', 'pass', { at: new Date('2028-01-01T00:00:00Z') }))).toEqual(first)
  expect(numberOf(asked('first', 'b', 'pass')).number).toBe('3F9C 2027 0002')
  expect(numberOf(asked('first', 'c', 'pass', { at: new Date('2028-01-01T00:00:00Z') })).number).toBe('3F9C 2028 0001')
})

test('another result gets an amendment that names the last number and why, and so does one that comes back', () => {
  const why = 'The verdict was PASS and is UNDECIDED now.'
  numberOf(asked('amended', 'a', 'pass'))
  numberOf(asked('amended', 'other', 'pass'))
  const second = numberOf(asked('amended', 'a', 'undecided'))
  expect(second).toMatchObject({ number: '3F9C 2027 0003', amends: { number: '3F9C 2027 0001', why } })
  expect(numberOf(asked('amended', 'a', 'undecided', { why: 'For no reason.' }))).toEqual(second)
  const third = numberOf(asked('amended', 'a', 'pass'))
  expect(third).toMatchObject({ number: '3F9C 2027 0004', amends: { number: '3F9C 2027 0003', why } })
})

test('a number that is typed leads to its recording; one that was never allotted, or never used, to none', () => {
  const given = numberOf(asked('typed', 'a', 'pass'))
  expect(findNumbered(join(folder, 'typed'), '3f9c20270001')).toEqual(given)
  expect(findNumbered(join(folder, 'typed'), '3F9C 2027 0002')).toBeNull()
  expect(findNumbered(join(folder, 'typed'), 'A1047')).toBeNull()
  const unused = { ...given, number: '3F9C 2027 0002' }
  writeFileSync(join(folder, 'typed/3F9C-2027/2.json'), JSON.stringify(unused))
  expect(findNumbered(join(folder, 'typed'), '3F9C 2027 0002')).toBeNull()
})

test('what keeps a number and is damaged is told, and gets no second number', () => {
  const { recordingDigest } = asked('damaged', 'a', 'pass')
  numberOf(asked('damaged', 'a', 'pass'))
  writeFileSync(join(folder, 'damaged/reports', `${recordingDigest}-1.json`), '{"num')
  expect(() => numberOf(asked('damaged', 'a', 'pass'))).toThrow("which keeps a report's number, is damaged.")
})

/** What ten programs print that each run `body` with the number `n` of the program at hand. */
function tenPrograms(into: string, body: string): Promise<string[]> {
  mkdirSync(join(folder, into))
  const program = `
    import { numberOf } from ${JSON.stringify(new URL('../../src/numbers/number-of.ts', import.meta.url).href)}
    import { createHash } from 'node:crypto'
    const [folder, n] = process.argv.slice(1)
    const sha256 = (text) => createHash('sha256').update(text).digest('hex')
    const ask = (recording) => console.log(numberOf({
      folder, fingerprint: '3f9c', recordingDigest: sha256(recording), resultDigest: sha256('pass'),
      at: new Date('2027-03-14T09:15:00Z'), why: '' }).number)
    ${body}`
  return Promise.all(
    Array.from({ length: 10 }, (_, n) => {
      const child = spawn(process.execPath, ['--input-type=module', '-e', program, join(folder, into), String(n)])
      let out = ''
      child.stdout.setEncoding('utf8').on('data', (text: string) => {
        out += text
      })
      return new Promise<string>((done) => child.on('close', () => done(out)))
    }),
  )
}

test('ten programs with twenty reports each get two hundred different numbers', async () => {
  const said = await tenPrograms('ten', "for (let i = 0; i < 20; i++) ask(n + ' ' + i)")
  const numbers = said.flatMap((out) => out.trim().split('\n'))
  expect(numbers).toHaveLength(200)
  expect(new Set(numbers).size).toBe(200)
})

test('ten programs with the same report get the same number', async () => {
  const said = await tenPrograms('same', "ask('a')")
  expect(new Set(said).size).toBe(1)
  expect(said[0]).toMatch(/^3F9C 2027 \d{4}\n$/)
})
