// What a tag says: verdict, part and numbers; and that nothing but a whole pass of a real part looks like one.
import { beforeAll, expect, test } from 'vitest'
import { findingRows } from '../../src/core/diagnosis/findings.table.ts'
import type { Finding, LimitResult } from '../../src/core/model/result.ts'
import { parseTagCode } from '../../src/core/text/tag-code.ts'
import { rejectWords } from '../../src/report/model/reject-words.table.ts'
import type { ReportInput } from '../../src/report/model/report-input.ts'
import { tagOf } from '../../src/report/model/tag-of.ts'
import { changedInput, goldenInput } from '../harness/sample-report.ts'

let simulated: ReportInput
let pass: ReportInput
beforeAll(async () => {
  simulated = await goldenInput('good-1')
  pass = { ...changedInput(simulated), number: '3F9C 2027 0042' }
})

const words = (text: string | null) => (text ?? '').split(' ').length

test('a pass tells part, serial number, make and break with U, date and number, and whose tag it is', () => {
  expect(tagOf({ ...pass, shop: { ...pass.shop, name: 'North Hill Repairs' } })).toMatchObject({
    word: 'PASS',
    warns: false,
    beside: 'North Hill Repairs',
    reason: null,
    model: 'HL-Proving 1',
    serial: 'serial 0417',
    values: ['make 0.2510 ± 0.0053', 'break 0.1894 ± 0.0053'],
    unit: '± U 95 %, inH2O',
    date: '2026-02-03',
    last: '3F9C 2027 0042',
    code: `3F9C 2027 0042 0417 ${pass.sha256.slice(0, 16).toUpperCase()}`,
  })
})

test('a part that failed is rejected, with its reason in at most five words', async () => {
  const off = tagOf(changedInput(await goldenInput('off-high-2')))
  expect(off).toMatchObject({ word: 'REJECT', warns: true, beside: 'DO NOT FIT', reason: 'make above its limit' })
  expect(tagOf(changedInput(await goldenInput('stuck-closed-6')))).toMatchObject({
    word: 'REJECT',
    reason: 'contact stuck closed',
  })
})

test('each finding that may fail a part has words for its tag, and no other has', () => {
  const failing = Object.entries(findingRows).flatMap(([code, { effects }]) => (effects.includes('fail') ? [code] : []))
  expect(Object.keys(rejectWords).sort()).toEqual(failing.sort())
  for (const told of Object.values(rejectWords)) expect(words(told)).toBeLessThanOrEqual(5)
})

test('whichever limit is missed, its tag says so in at most five words', () => {
  const names: LimitResult['name'][] = ['make', 'break', 'differential', 'contact', 'first-make', 'first-break']
  for (const name of names)
    for (const [lowPa, highPa] of [
      [1e4, null],
      [null, 1e-9],
      [null, 1e4],
    ] as const)
      for (const outcome of ['fail', 'undecided'] as const) {
        const limits: LimitResult[] = [{ name, lowPa, highPa, outcome, conformance: 0.1 }]
        const { reason } = tagOf(changedInput(simulated, {}, { verdict: outcome, limits }))
        expect(reason).toMatch(/ (below|above|beyond|near) its limit$/)
        expect(words(reason)).toBeLessThanOrEqual(5)
      }
})

const damaged = { torn: false, corruptLines: [], seal: 'intact' } as const
test.each([
  ['SIMULATED', { simulated: true }, {}],
  ['SIMULATED', { simulated: true }, { verdict: 'fail' }],
  ['SIMULATED', { simulated: true }, { damage: { ...damaged, seal: 'missing' } }],
  ['UNDECIDED', {}, { verdict: 'undecided' }],
  ['VOID', {}, { verdict: 'void' }],
  ['NOT ASSESSED', {}, { verdict: 'not-assessed' }],
  ['DAMAGED RECORDING', {}, { damage: { ...damaged, corruptLines: [7] } }],
  ['TORN RECORDING', {}, { damage: { ...damaged, torn: true } }],
  ['BROKEN SEAL', {}, { damage: { ...damaged, seal: 'broken' } }],
  ['NOT SEALED', {}, { damage: { ...damaged, seal: 'missing' } }],
  ['REJECT', {}, { verdict: 'fail', damage: { ...damaged, torn: true } }],
] as const)('%s is what the tag and its code begin with, and nothing on it says pass', (word, start, result) => {
  const tag = tagOf(changedInput(pass, start, { damage: damaged, ...result } as never))
  expect(tag).toMatchObject({ word, warns: true, beside: 'DO NOT FIT', again: word === 'SIMULATED' })
  expect(parseTagCode(tag.code)?.standing).toBe(word)
  expect(JSON.stringify(tag)).not.toMatch(/pass/i)
  expect(words(tag.reason)).toBeLessThanOrEqual(5)
})

test('a fail that void outranks is told on the tag too', () => {
  const findings: Finding[] = []
  const tag = tagOf(changedInput(pass, {}, { verdict: 'void', beside: 'It never made.', findings }))
  expect(tag).toMatchObject({ word: 'VOID', reason: 'it failed beside that' })
})
