// Tables for spreadsheets: both decimal signs, texts that would be formulas, and the results beside their JSON.
import { beforeAll, expect, test } from 'vitest'
import { csvTable } from '../../src/report/csv-table.ts'
import type { ReportInput } from '../../src/report/model/report-input.ts'
import { writeResultsCsv } from '../../src/report/write-results-csv.ts'
import { changedInput, customerInput, goldenInput } from '../harness/sample-report.ts'

let simulated: ReportInput
beforeAll(async () => {
  simulated = await goldenInput('good-1')
})

/** RFC 4180, read back: rows of cells. */
function parse(text: string, separator: string): string[][] {
  const rows: string[][] = [['']]
  let quoted = false
  for (let i = 0; i < text.length; i++) {
    const [char, row] = [text[i]!, rows.at(-1)!]
    if (quoted && char === '"' && text[i + 1] === '"') row[row.length - 1] += text[i++]!
    else if (char === '"') quoted = !quoted
    else if (!quoted && char === separator) row.push('')
    else if (!quoted && char === '\n') rows.push([''])
    else if (quoted || char !== '\r') row[row.length - 1] += char
  }
  return rows.slice(0, -1)
}

test('numbers have a point between commas, or a comma between semicolons; what is not known is empty', () => {
  const rows = [
    [1.5, -0.25, null],
    [Number.POSITIVE_INFINITY, Number.NaN, 1e-7],
  ]
  expect(csvTable(['a', 'b', 'c'], rows)).toBe('a,b,c\r\n1.5,-0.25,\r\ninf,,1e-7\r\n')
  expect(csvTable(['a', 'b', 'c'], rows, 'comma')).toBe('a;b;c\r\n1,5;-0,25;\r\ninf;;1e-7\r\n')
})

test.each(['=1+1', '+1', '-1', '@SUM(A1)', ' =1', '\t=1', '|cmd', '%x'])(
  'the text %j is no formula any more',
  (text) => {
    expect(parse(csvTable(['a'], [[text]]), ',')[1]).toEqual([`'${text}`])
  },
)

test('a text comes back as it was, whatever is in it; letters beyond ASCII are marked', () => {
  const texts = ['a,b', 'a;b', 'say "x"', 'two\nlines', ' edge ', 'plain']
  for (const [decimal, separator] of [
    ['point', ','],
    ['comma', ';'],
  ] as const)
    expect(
      parse(
        csvTable(
          ['a'],
          texts.map((text) => [text]),
          decimal,
        ),
        separator,
      ).slice(1),
    ).toEqual(texts.map((t) => [t]))
  expect(csvTable(['a'], [['plain']]).startsWith('a')).toBe(true)
  expect(csvTable(['a'], [['Ω']]).startsWith('\ufeffa')).toBe(true)
})

test('each number of the results and of the strokes is the one of the JSON', () => {
  const input = changedInput(customerInput(simulated), { job: { customer: '=HYPERLINK("x")', order: '7,12' } })
  const { results, cycles } = writeResultsCsv([input, simulated], 'comma')
  const [head = [], row = [], second = []] = parse(results, ';')
  const cell = (name: string) => row[head.indexOf(name)]
  const number = (name: string) => Number(cell(name)!.replace(',', '.'))
  const { result } = input
  for (const name of ['make', 'break', 'differential'] as const) {
    expect(number(`${name}_Pa`)).toBeCloseTo(result[name].valuePa!, 4)
    expect(number(`${name}_U_Pa`)).toBeCloseTo(result[name].UPa!, 4)
    expect(number(`${name}_n`)).toBe(result[name].n)
    expect(cell(`${name}_outcome`)).toBe(result.limits.find((limit) => limit.name === name)!.outcome)
  }
  expect([cell('verdict'), cell('standing'), cell('serial'), cell('number'), cell('issued')]).toEqual([
    ...['pass', '', '0417', 'AB12 2027 0114', '2027-03-14'],
  ])
  expect([cell('customer'), cell('order'), cell('sha256')]).toEqual([`'=HYPERLINK("x")`, '7,12', input.sha256])
  expect(second[head.indexOf('standing')]).toBe('SIMULATED')
  const strokes = parse(cycles, ';').slice(1)
  expect(strokes).toHaveLength(result.cycles.length + simulated.result.cycles.length)
  for (const [i, { stroke, makePa, used }] of result.cycles.entries()) {
    expect(Number(strokes[i]![2])).toBe(stroke)
    expect(Number(strokes[i]![3]!.replace(',', '.'))).toBeCloseTo(makePa!, 4)
    expect(strokes[i]![7]).toBe(used ? 'yes' : 'no')
  }
})

test('of what decides nothing no outcome of a limit is in the table', () => {
  const { results } = writeResultsCsv([changedInput(simulated, {}, { verdict: 'void' })], 'point')
  const [head = [], row = []] = parse(results, ',')
  for (const [i, name] of head.entries()) if (/_(outcome|conforms)$/.test(name)) expect(row[i]).toBe('')
})
