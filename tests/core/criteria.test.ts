// The table of thresholds: what its rows say of themselves, and that each is used.
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { type Criterion, criteria, criterionRows } from '../../src/core/criteria.table.ts'

const src = fileURLToPath(new URL('../../src', import.meta.url))
const code = readdirSync(src, { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.tsx?$/.test(name) && !name.endsWith('criteria.table.ts'))
  .map((name) => readFileSync(join(src, name), 'utf8'))
  .filter((text) => text.includes('/criteria.table.ts'))
  .join('\n')

/** The end of a name, and the unit that goes with it. */
const units: readonly (readonly [end: RegExp, unit: RegExp])[] = [
  [/Us$/, /^µs$/],
  [/[a-z]S$/, /^s$/],
  [/Ohm$/, /^ohm$/],
  [/(Share|Ratio|Noises|Sds|Intervals|Widths|Pulls)$/, /^× /],
  [/(Probability|Quantile)$/, /^probability$/],
  [/(Evidence|LogLik)$/, /^log likelihood$/],
  [/Digits$/, /^digits$/],
  [/Readings$/, /^readings$/],
  [/Cycles$/, /^cycles$/],
]

test('each threshold is a number with unit, source and meaning, and is found by its name', () => {
  expect(criterionRows.length).toBeGreaterThan(100)
  for (const { name, value, unit, source, meaning } of criterionRows) {
    expect(criteria[name]).toBe(value)
    expect(value, name).toBeGreaterThan(0)
    for (const text of [unit, source, meaning]) expect(text.trim(), name).toMatch(/^\S.*\S$|^\S$/)
  }
})

test('a name ends in what its unit is, and the other way round', () => {
  const wrong = ({ name, unit }: Criterion) => units.some(([end, its]) => end.test(name) && !its.test(unit))
  expect(criterionRows.filter(wrong)).toEqual([])
  for (const [end, unit] of [
    [/Us$/, 'µs'],
    [/S$/, 's'],
    [/Ohm$/, 'ohm'],
  ] as const)
    expect(criterionRows.filter((row) => row.unit === unit && !end.test(row.name))).toEqual([])
})

test('no threshold lies in the table that nothing is held against', () => {
  const taken = [...code.matchAll(/\bconst \{ ([\w, ]+) \} = criteria\b/g)].flatMap(([, names = '']) =>
    names.split(', '),
  )
  const named = [...code.matchAll(/\bcriteria\.(\w+)/g)].map(([, name]) => name)
  const used = new Set([...taken, ...named])
  expect(criterionRows.map(({ name }) => name).filter((name) => !used.has(name))).toEqual([])
})
