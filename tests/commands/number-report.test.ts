import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, expect, test, vi } from 'vitest'
import { numberReport, numberThatIs } from '../../src/commands/number-report.ts'
import type { Result } from '../../src/core/model/result.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'

const folder = temporaryFolder()
vi.stubEnv('HOME', folder)
vi.stubEnv('XDG_DATA_HOME', join(folder, 'data'))
afterAll(() => {
  vi.unstubAllEnvs()
})

const expected = readFileSync(new URL('../../recordings/good-1.expected.json', import.meta.url), 'utf8')
const result: Result = JSON.parse(expected)
const digest = 'ab'.repeat(32)
const numberOf = (of: Result, simulated = false) => numberReport(of, digest, simulated, 'recorded PASS by 0.1.0')

test('the first report of a recording gets a number, and keeps it when it is printed again, on another machine too', () => {
  const first = numberOf(result)
  expect(first).toMatchObject({ number: expect.stringMatching(/^[0-9A-F]{4} \d{4} \d{4}$/), amends: null })
  expect(numberOf(result)).toEqual(first)
  const lastBits = { ...result, make: { ...result.make, valuePa: result.make.valuePa! * (1 + 1e-12) } }
  expect(numberOf(lastBits)).toEqual(first)
})

test('another result of the same recording gets a number of its own, which names the one before and why', () => {
  const { number } = numberOf(result)
  const other = numberOf({ ...result, verdict: 'undecided' })
  expect(other.number).not.toBe(number)
  expect(other.amends).toEqual({ number, why: 'recorded PASS by 0.1.0' })
})

test('what may not be taken for a test of a part gets none: simulated, void, torn, damaged, not sealed', () => {
  const damage = (change: Partial<Result['damage']>) => ({ ...result, damage: { ...result.damage, ...change } })
  const corruptLines = [{ line: 3, lastLine: 3, offset: 120 }] as unknown as Result['damage']['corruptLines']
  const none = { number: null, issued: null, amends: null }
  expect(numberOf(result, true)).toEqual(none)
  expect(numberOf({ ...result, verdict: 'void' })).toEqual(none)
  for (const of of [
    damage({ torn: true }),
    damage({ seal: 'missing' }),
    damage({ seal: 'broken' }),
    damage({ corruptLines }),
  ])
    expect(numberOf(of)).toEqual(none)
})

test('whoever only asks for the number of a recording allots none, and is told that of its last report', () => {
  const fresh = 'cd'.repeat(32)
  expect(numberThatIs(fresh)).toEqual({ number: null, issued: null, amends: null })
  numberReport(result, fresh, false, '')
  const last = numberReport({ ...result, verdict: 'fail' }, fresh, false, 'another program')
  expect(numberThatIs(fresh)).toEqual(last)
})
