// The report of a recording beside the JSON of `replay`: each number, each word, and nothing that could be taken for a pass.
import { readFileSync } from 'node:fs'
import { beforeAll, describe, expect, test } from 'vitest'
import type { LimitResult, Result } from '../../src/core/model/result.ts'
import { endOfReport, notRecorded, type Report } from '../../src/report/model/report.ts'
import type { ReportInput } from '../../src/report/model/report-input.ts'
import { reportOf } from '../../src/report/model/report-of.ts'
import { summaryOf } from '../../src/report/model/summary-of.ts'
import { writeReportText } from '../../src/report/write-report-text.ts'
import { changedInput, factOf, goldenInput, headOf, tableOf } from '../harness/sample-report.ts'

const inH2OPa = 249.08891
const golden = ['good-1', 'off-high-2', 'blockage-9', 'never-makes-5', 'network-lead-off-10', 'torn-tail'] as const
const inputs = new Map<string, ReportInput>()
const input = (name: string) => inputs.get(name)!

beforeAll(async () => {
  for (const name of golden) inputs.set(name, await goldenInput(name))
})

const digitOf = (text: string | undefined) => 10 ** -(/\.(\d+)$/.exec(text ?? '')?.[1]?.length ?? 0)

/** The outcome of each result. */
const outcomesIn = (report: Report) =>
  tableOf(report, 'Result').map((row) => row[headOf(report, 'Result').indexOf('Outcome')])

/** A number as it is printed beside the one it was made from: off by no more than a half of its last digit. */
function expectRounded(text: string | undefined, value: number | null): void {
  if (value === null) expect(text).toBe('–')
  else expect(Math.abs(Number(text) - value)).toBeLessThanOrEqual(0.5001 * digitOf(text))
}

/** An uncertainty is rounded up, or down by less than 1 %: JCGM 100:2008, 7.2.6. */
function expectRoundedUp(text: string | undefined, value: number): void {
  expect(Number(text)).toBeGreaterThan(0.99 * value)
  expect(Number(text) - value).toBeLessThan(digitOf(text))
}

describe.each(golden)('%s', (name) => {
  test('every number of the results is the one of the JSON, in the unit of the rating and in Pa', () => {
    const json = JSON.parse(
      readFileSync(new URL(`../../recordings/${name}.expected.json`, import.meta.url), 'utf8'),
    ) as Result
    const report = reportOf(changedInput(input(name)))
    const { unit } = input(name).curve
    const perUnit = unit === 'Pa' ? [1] : [inH2OPa, 1]
    const rows = tableOf(report, 'Result')
    for (const [i, quantity] of (['make', 'break', 'differential'] as const).entries()) {
      const { valuePa, UPa, k, n } = json[quantity]
      const row = rows[i]!
      expect(row[0]).toBe(quantity)
      perUnit.forEach((pa, j) => {
        const [value, U] = row[1 + j]!.split(' ± ')
        expectRounded(value, valuePa === null ? null : valuePa / pa)
        if (UPa !== null) expectRoundedUp(U, UPa / pa)
      })
      expect(row[1 + perUnit.length]).toBe(k === null ? '–' : k.toFixed(2))
      expect(row[2 + perUnit.length]).toBe(String(n))
    }
    perUnit.forEach((pa, j) => {
      for (const [i, first] of [json.firstStroke.makePa, json.firstStroke.breakPa].entries())
        expectRounded(rows[3 + i]![1 + j], first === null ? null : first / pa)
    })
    const strokes = json.cycles.length > 0 ? tableOf(report, 'Stroke') : []
    expect(strokes).toHaveLength(json.cycles.length)
    for (const [i, cycle] of json.cycles.entries()) {
      const row = strokes[i]!
      expect(row[0]).toBe(String(cycle.stroke))
      perUnit.forEach((pa, j) => {
        expectRounded(row[1 + j], cycle.makePa === null ? null : cycle.makePa / pa)
        expectRounded(row[2 + perUnit.length + j], cycle.breakPa === null ? null : cycle.breakPa / pa)
      })
      expect(row.at(-1) === 'counted').toBe(cycle.used)
    }
    const { acted, contact } = json
    const both = Math.min(acted.made, acted.released)
    expect(factOf(report, 'Acted')).toContain(`in ${both} of ${acted.strokes} strokes`)
    if (contact.medianOhm !== null)
      expect(factOf(report, 'Contact resistance')).toContain(`${contact.medianOhm.toFixed(2)} ohm median`)
    for (const finding of json.findings)
      expect(writeReportText(report).replace(/\s+/g, ' ')).toContain(`(${finding.code})`)
  })
})

test('an outcome is printed where the recording is whole, and as the JSON has it', () => {
  const report = reportOf(changedInput(input('off-high-2')))
  const outcome = (name: LimitResult['name']) => input('off-high-2').result.limits.find((l) => l.name === name)?.outcome
  expect(outcomesIn(report)).toEqual([
    outcome('make'),
    outcome('break'),
    outcome('differential'),
    outcome('first-make'),
    outcome('first-break'),
  ])
  expect(report.verdict?.word).toBe('FAIL')
  expect(report.stamp).toBeNull()
})

test('a whole pass of a real part has no stamp', () => {
  const report = reportOf(changedInput(input('good-1')))
  expect(report.stamp).toBeNull()
  expect(report.verdict?.word).toBe('PASS')
})

test('a simulated pass says so in its stamp, its verdict and each outcome', () => {
  const report = reportOf(input('good-1'))
  expect(report.stamp).toBe('SIMULATED')
  expect(report.verdict?.word).toBe('SIMULATED PASS: no real part was tested')
  for (const outcome of outcomesIn(report)) expect(outcome).toBe('pass (simulated)')
  const text = writeReportText(report)
  expect(text.match(/\*\*\* SIMULATED \*\*\*/g)!.length).toBeGreaterThan(report.sections.length)
  expect(text.endsWith(`${endOfReport}\n`)).toBe(true)
})

test.each([
  ['void', {}, 'VOID'],
  ['not-assessed', {}, 'NOT ASSESSED'],
  ['undecided', {}, 'UNDECIDED, NOT PASSED'],
  ['pass', { seal: 'missing' as const }, 'NOT SEALED'],
  ['pass', { seal: 'broken' as const }, 'BROKEN SEAL'],
  ['pass', { torn: true }, 'TORN RECORDING'],
  ['pass', { corruptLines: [7] }, 'DAMAGED RECORDING'],
] as const)(
  '%s with %o is stamped %s, and no limit of it reads pass unless only undecided',
  (verdict, damage, stamp) => {
    const whole = input('good-1').result.damage
    const report = reportOf(
      changedInput(
        input('good-1'),
        {},
        {
          verdict,
          damage: { ...whole, ...damage, corruptLines: [...('corruptLines' in damage ? damage.corruptLines : [])] },
        },
      ),
    )
    expect(report.stamp).toBe(stamp)
    const outcomes = outcomesIn(report)
    if (verdict !== 'undecided') expect(new Set(outcomes)).toEqual(new Set(['not decided']))
    expect(writeReportText(report)).toContain(stamp)
  },
)

test('where the recorded verdict differs from today’s, both are said', () => {
  const changed = changedInput(input('good-1'), {}, { recorded: { verdict: 'fail', software: '0.0.9' } })
  const report = reportOf({ ...changed, said: { ...changed.said, thenAndNow: 'recorded FAIL by 0.0.9, now PASS' } })
  expect(report.verdict?.sentences).toContain('Then and now: recorded FAIL by 0.0.9, now PASS.')
  expect(factOf(report, 'Verdict when it was recorded')).toBe('FAIL')
  expect(factOf(report, 'Verdict of this report')).toBe('PASS')
})

test('what the recording does not hold is printed as not recorded, and no number is made up', () => {
  const report = reportOf(changedInput(input('good-1'), { operator: null, conditions: null, job: null }))
  for (const label of ['Shop', 'Customer', 'Order', 'Tested by', 'Temperature', 'Attitude', 'Rest before the test'])
    expect(factOf(report, label)).toBeNull()
  expect(factOf(report, 'Number')).toBe('not allotted')
  expect(factOf(report, 'Signature')).toBe('not signed')
  expect(writeReportText(report)).toContain(`Customer: ${notRecorded}`)
})

test('what is stated of customer, number and signature is printed', () => {
  const real = changedInput(input('good-1'), { job: { customer: 'Ash & Sons', order: '7-12' }, operator: 'R. N.' })
  const report = reportOf({
    ...real,
    number: '27-0114',
    signed: { key: 'ab12', signature: 'c2ln', told: 'signed by the key of this bench' },
  })
  expect(factOf(report, 'Customer')).toBe('Ash & Sons')
  expect(factOf(report, 'Order')).toBe('7-12')
  expect(factOf(report, 'Tested by')).toBe('R. N.')
  expect(factOf(report, 'Number')).toBe('27-0114')
  expect(factOf(report, 'Signing key')).toBe('ab12')
  expect(report.foot).toContain('number 27-0114')
  expect(writeReportText(report).replace(/\s+/g, ' ')).toContain('who holds the key can lie')
})

test('a hostile name stays on one line, without controls, and no row is longer than 80', () => {
  const { part } = input('good-1').analysis.setup.start
  const hostile = `A\u001b[31m\n\u202eB\ud800${'x'.repeat(5000)} 日本 שלום`
  const report = reportOf(changedInput(input('good-1'), { part: { ...part, model: hostile, serial: hostile } }))
  const text = writeReportText(report)
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
  expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e]/)
  expect(text.isWellFormed()).toBe(true)
  expect(factOf(report, 'Model')).toContain('characters)')
  for (const row of text.split('\n')) expect([...row].length).toBeLessThanOrEqual(80)
})

test('a summary lists each part with its own verdict, and is stamped where one of them is simulated', () => {
  const real = ['good-1', 'off-high-2'].map((name) => changedInput(input(name)))
  const report = summaryOf(real)
  expect(report.stamp).toBeNull()
  expect(report.subject).toBe('2 recordings: PASS 1, FAIL 1')
  const rows = tableOf(report, 'Serial')
  expect(rows.map((row) => row[3])).toEqual(['PASS', 'FAIL'])
  expect(rows.map((row) => row.at(-1))).toEqual(real.map(({ sha256 }) => sha256.slice(0, 12)))
  expect(tableOf(summaryOf([input('good-1')]), 'Serial')[0]![3]).toBe('SIMULATED PASS')
  expect(summaryOf([real[0]!, input('off-high-2')]).stamp).toBe('SIMULATED')
  const unsealed = changedInput(input('good-1'), {}, { damage: { torn: false, corruptLines: [], seal: 'missing' } })
  expect(tableOf(summaryOf([unsealed, unsealed]), 'Serial')[0]![3]).toBe('PASS: NOT SEALED')
})

test('the second unit of the shop is beside the rating’s in every number, and the plots have it', () => {
  const { shop } = input('good-1')
  const report = reportOf({ ...changedInput(input('good-1')), shop: { ...shop, unit: 'mmH2O' } })
  const { make } = input('good-1').result
  expect(headOf(report, 'Result').slice(1, 3)).toEqual(['Value ± U, inH2O', 'Value ± U, mmH2O'])
  const [value] = tableOf(report, 'Result')[0]![2]!.split(' ± ')
  expectRounded(value, make.valuePa! / 9.80665)
  const [, beside] = /\((.*) mmH2O\)/.exec(factOf(report, 'Zero before')!)!
  expectRounded(beside, input('good-1').analysis.zero.before!.meanPa / 9.80665)
  const facts = report.sections.flatMap(({ blocks }) =>
    blocks.flatMap((block) => (block.kind === 'facts' ? block.facts : [])),
  )
  for (const { label, value } of facts) expect(value ?? '', label).not.toMatch(/ Pa\b/)
  for (const block of report.sections.flatMap(({ blocks }) => blocks))
    if (block.kind === 'drawing') expect(block.svg).toContain('>mmH2O<')
})

test('the chance that a result conforms and the risk that it does not are those of the JSON, and add up', () => {
  const { result } = input('off-high-2')
  const report = reportOf(changedInput(input('off-high-2')))
  const [at, risk] = ['Conforms', 'Risk'].map((name) => headOf(report, 'Result').indexOf(name)) as [number, number]
  const shareOf = (text: string) => Number(/[\d.]+/.exec(text)![0])
  for (const row of tableOf(report, 'Result')) {
    const limit = result.limits.find(({ name }) => name === row[0]!.replace(' ', '-'))
    if (limit?.conformance == null) expect([row[at], row[risk]]).toEqual(['not stated', 'not stated'])
    else {
      expect(shareOf(row[at]!)).toBeCloseTo(100 * limit.conformance, 0)
      expect(shareOf(row[at]!) + shareOf(row[risk]!)).toBeCloseTo(100, 0)
    }
  }
})

test('the day on which the number was allotted is the day of issue', () => {
  const real = changedInput(input('good-1'))
  expect(factOf(reportOf(real), 'Issued')).toBeNull()
  expect(factOf(reportOf({ ...real, issued: '2027-03-14T23:59:00.000Z' }), 'Issued')).toBe('2027-03-14')
})
