// Each rule of the tree against a small file that breaks it: a rule that finds nothing is no rule.

import { expect, test } from 'vitest'
import { codeOf } from '../../src/contract/code-of.ts'
import { pressuresByHand } from './pressures-by-hand.ts'
import { readImports, readPackages } from './read-imports.ts'
import {
  bareNumbers,
  circles,
  impurities,
  partOf,
  wrongImports,
  wrongLayers,
  wrongPackages,
  wrongShape,
  wrongSharing,
  wrongTopLevel,
} from './rules.ts'

const opening = '// Bytes of one thing into another.\n'

test('imports are read from the account of the compiler, type imports too', () => {
  const explained = `../../lib.d.ts
  Library referenced via 'es5' from file 'x.d.ts'
src/core/view/live.ts
   Imported via './live.ts' from file 'src/core/view/curve.ts'
   Matched by include pattern '../src' in 'tests/tsconfig.json'
node_modules/zod/index.d.ts
   Imported via 'zod' from file 'src/core/model/part.ts' with packageId 'zod/index.d.ts@4.0.0'
src/commands/ports.ts
   Imported via './commands/ports.ts' from file 'src/cli.ts'
`
  expect(readImports(explained)).toEqual([
    { from: 'src/core/view/curve.ts', to: 'src/core/view/live.ts' },
    { from: 'src/cli.ts', to: 'src/commands/ports.ts' },
  ])
  expect(readImports('')).toEqual([])
})

test('a file belongs to its folder, or to itself at the top of src/', () => {
  expect(['src/core/signal/zero.ts', 'src/cli.ts', 'drivers/x.ts', 'tests/a/b.ts'].map(partOf)).toEqual([
    'core',
    'cli',
    'drivers',
    'tests',
  ])
})

test.each([
  ['src/core/intake/run.ts', 'src/errors.ts'],
  ['src/core/intake/run.ts', 'src/recording/read.ts'],
  ['src/protocol/lines.ts', 'src/driver.ts'],
  ['src/report/curve.ts', 'src/recording/read.ts'],
  ['src/source/follow.ts', 'src/recording/read.ts'],
  ['src/source/replay.ts', 'src/acquisition/messages.ts'],
  ['src/source/acquire.ts', 'src/acquisition/port.ts'],
  ['src/commands/run.ts', 'src/acquisition/main.ts'],
  ['src/cli.ts', 'src/acquisition/messages.ts'],
  ['src/acquisition/main.ts', 'src/terminal/app.tsx'],
  ['src/acquisition/main.ts', 'src/recording/read.ts'],
  ['drivers/ascii-line.ts', 'src/errors.ts'],
  ['drivers/ascii-line.ts', 'src/core/intake/run.ts'],
  ['src/terminal/app.tsx', 'src/session.ts'],
  ['src/newcomer.ts', 'src/core/model/units.ts'],
])('%s must not import %s', (from, to) => {
  expect(wrongImports([{ from, to }])).toEqual([`${from} must not import ${to}`])
})

test.each([
  ['src/core/intake/run.ts', 'src/core/model/units.ts'],
  ['src/report/curve.ts', 'src/core/model/units.ts'],
  ['drivers/ascii-line.ts', 'src/protocol/lines.ts'],
  ['src/commands/run.ts', 'src/source/acquire.ts'],
  ['src/source/acquire.ts', 'src/acquisition/messages.ts'],
  ['tests/core/run.test.ts', 'src/acquisition/main.ts'],
])('%s may import %s', (from, to) => {
  expect(wrongImports([{ from, to }])).toEqual([])
})

test.each([
  ['src/core/model/part.ts', 'src/core/intake/run.ts', 'src/core/intake/ comes after src/core/model/'],
  ['src/core/trips/fit.ts', 'src/core/trips/lag/hose.ts', 'src/core/trips/lag/ comes after src/core/trips/'],
  ['src/core/judge.ts', 'src/core/guide/step.ts', 'src/core/guide/ comes after src/core/judge.ts'],
  ['src/terminal/text/line.ts', 'src/terminal/app.tsx', 'src/terminal/ comes after src/terminal/text/'],
])('%s must not import %s from a room above', (from, to, why) => {
  expect(wrongLayers([{ from, to }])).toEqual([`${from} must not import ${to}: ${why}`])
  expect(wrongLayers([{ from: to, to: from }])).toEqual([])
})

test('a file of the core lies in one of its rooms', () => {
  expect(wrongLayers([{ from: 'src/core/stray.ts', to: 'src/core/model/units.ts' }])).toContain(
    'src/core/stray.ts lies in no room of src/core',
  )
})

test.each(['trips/fit.ts', 'signal/zero.ts', 'uncertainty/budget.ts', 'analyse.ts', 'strokes/edges.ts'])(
  'the second reader must not import %s',
  (name) => {
    const to = `src/core/${name}`
    for (const file of ['second-reader', 'raw-strokes'])
      expect(wrongSharing([{ from: `src/core/decision/${file}.ts`, to }])).toHaveLength(1)
    expect(wrongSharing([{ from: 'src/core/decision/limits.ts', to }])).toEqual([])
  },
)

test('a circle is told by its arrows, and what only leads into it or out of it is not', () => {
  const arrow = (from: string, to: string) => ({ from: `src/${from}.ts`, to: `src/${to}.ts` })
  const round = [arrow('a', 'b'), arrow('b', 'c'), arrow('c', 'a')]
  const aside = [arrow('in', 'a'), arrow('c', 'out'), arrow('out', 'end'), { from: 'tests/x.ts', to: 'src/a.ts' }]
  expect(circles([...round, ...aside])).toEqual([
    'src/a.ts → src/b.ts is part of a circle',
    'src/b.ts → src/c.ts is part of a circle',
    'src/c.ts → src/a.ts is part of a circle',
  ])
  expect(circles(aside)).toEqual([])
})

test('a package is found however it is imported', () => {
  const text = `import type { A } from 'zod/v4'
import '@scope/pack/deep'
export { b } from 'other'
const c = await import('ink')
import { d } from './own.ts'
import fs from 'node:fs'
f('seed of the random numbers', whole(), ' x')
import {
  e,
} from 'long-one'`
  expect(readPackages(text).sort()).toEqual(['@scope/pack', 'ink', 'long-one', 'node:fs', 'other', 'zod'])
})

test.each([
  ['src/core/intake/run.ts', "import { ink } from 'ink'"],
  ['src/core/intake/run.ts', "import { readFile } from 'node:fs'"],
  ['drivers/x.ts', "import { z } from 'zod'"],
  ['src/report/x.ts', "import { render } from 'ink'"],
  ['src/session.ts', "import { z } from 'zod'"],
])('%s must not have the line %s', (path, text) => {
  expect(wrongPackages({ path, text })).toHaveLength(1)
})

test.each([
  'Date.now()',
  'new Date()',
  'performance.now()',
  'Math.random()',
  'await x',
  'console.log(1)',
  'setTimeout(f)',
])('the core must not hold %s', (code) => {
  expect(impurities({ path: 'src/core/x.ts', text: `${opening}export const a = () => ${code}\n` })).toHaveLength(1)
  expect(impurities({ path: 'drivers/x.ts', text: `${opening}const a = ${code}\n` })[0]).toMatch(/^drivers\/x\.ts:2 /)
  expect(impurities({ path: 'src/session.ts', text: code })).toEqual([])
})

test('a word in a comment or a string is no use of it', () => {
  const text = `// Date and await.
/* console
   setTimeout */
const a = 'process', b = "fetch \\" crypto"
z.iso.date()
`
  expect(impurities({ path: 'src/core/x.ts', text })).toEqual([])
  expect(codeOf(text).split('\n')).toHaveLength(text.split('\n').length)
})

test.each([
  ['if (n < 3) return []', ['3']],
  ['const low = 0.6 >= share', ['0.6']],
  ['if (++away === 2) break', ['2']],
  ['if (first > 3 * last && other > 1) return []', ['3']],
  ['return moved <= limit * 1.5', ['1.5']],
  ['if (scatterPa <= tolerancePa / 4) return []', ['4']],
  ['const late = tUs > startUs - 1e6', ['1e6']],
  ['const far = Math.abs(a - b) > Math.max(5 * digitPa, 0.05 * ratedPa)', ['5', '0.05']],
  ['const gapS = Math.max(shortest(3 * intervalS),\n  0.3)', ['3', '0.3']],
  ['const stuck = x < -0.25 * ratedPa ? 7 : 8', ['0.25']],
  ['const ends = tUs - fromUs > 3_000_000', ['3_000_000']],
])('the core must not compare as in: %s', (code, numbers) => {
  const text = `${opening}\n${code}\n`
  const told = bareNumbers({ path: 'src/core/trips/x.ts', text })
  expect(told.map((each) => each.replace(/.* /, ''))).toEqual(numbers)
  expect(told[0]).toMatch(/^src\/core\/trips\/x\.ts:3 compares with /)
  expect(bareNumbers({ path: 'src/core/assess.ts', text })).toHaveLength(numbers.length)
  for (const path of ['src/core/statistics/x.ts', 'src/core/criteria.table.ts', 'src/terminal/x.ts'])
    expect(bareNumbers({ path, text })).toEqual([])
})

test.each([
  'if (n > 0 && m <= 1 && sign === -1) return',
  'const late = x > criteria.holdS * 1e6 || (loUs + hiUs) / 2 / 1e6 > y',
  'if (moved[2]! > 0 && a ** 2 < b && count % 2 === 1) return',
  'const far = a < b\nconst twice = 2 * a',
  'if (a > b) total = 3 * c',
  'const u = (rate * intervalS) / Math.sqrt(12) > limitPa',
  'const f = (x: number): Map<string, 2> => 2 * x',
  '// x < 3\nconst text = "x < 3"',
])('the core may reckon as in: %s', (code) => {
  expect(bareNumbers({ path: 'src/core/trips/x.ts', text: code })).toEqual([])
})

test.each([
  'pressurePa.toFixed(1)',
  'ratePaPerS.toFixed(1)',
  'mean.toPrecision(3)',
  '(pressurePa / perUnit).toPrecision(3)',
  'value?.toFixed(2)',
  // biome-ignore lint/suspicious/noTemplateCurlyInString: the text of a template
  '`${text} Pa`',
  'pressurePa / pressureUnits[unit]',
])('only one file writes a pressure: not %s', (code) => {
  const text = `${opening}const a = ${code}\n`
  expect(pressuresByHand({ path: 'src/terminal/text/x.ts', text })[0]).toMatch(/^src\/terminal\/text\/x\.ts:2 writes /)
  expect(pressuresByHand({ path: 'src/core/text/pressure-text.ts', text })).toEqual([])
  expect(pressuresByHand({ path: 'src/simulation/meter.ts', text })).toEqual([])
})

test.each([
  ['src/terminal/text/x.ts', 'tauS.toFixed(2)'],
  ['src/terminal/text/x.ts', '(ohm / 1e6).toFixed(2)'],
  ['src/core/diagnosis/x.ts', '(100 * first.share).toFixed(0)'],
  ['src/report/plot-sheet.ts', 'x.toFixed(2)'],
])('%s may write %s', (path, code) => {
  expect(pressuresByHand({ path, text: `${opening}const a = ${code}\n` })).toEqual([])
  expect(
    pressuresByHand({ path, text: `${opening}const a = ${code.replace(/\w+(?=\)?\.to)/, 'pressurePa')}\n` }),
  ).toHaveLength(1)
})

test.each([
  ['src/Name.ts', opening],
  ['src/two_words.ts', opening],
  ['src/core/line-utils.ts', opening],
  ['src/helpers.ts', opening],
  ['src/report/page.tsx', opening],
  ['src/core/long.ts', opening + '\n'.repeat(300)],
  ['src/core/bare.ts', 'export const a = 1\n'],
  ['src/core/lower.ts', '// bytes of one thing into another.\n'],
  ['src/core/heading.ts', '// Bytes of one thing into another\n'],
])('%s with such a text is refused', (path, text) => {
  expect(wrongShape({ path, text })).toHaveLength(1)
})

test.each([
  ['src/core/fine.ts', opening],
  ['src/main.ts', `#!/usr/bin/env node\n${opening}`],
  ['src/core/two.ts', '// Bytes of one thing\n// into another.\n'],
  ['src/terminal/app.tsx', opening],
  ['tests/reference/common-slope.table.ts', opening],
  ['src/simulation/scenarios.table.ts', opening + '\n'.repeat(400)],
  ['tests/reference/gum.ts', opening + '\n'.repeat(400)],
  ['src/core/full.ts', opening + '\n'.repeat(299)],
])('%s with such a text is taken', (path, text) => {
  expect(wrongShape({ path, text })).toEqual([])
})

test('only what belongs at the top is taken there', () => {
  expect(wrongTopLevel(['.git', '.npmrc', 'src', 'README.md', 'node_modules', 'biome.json', 'docs'])).toEqual([
    'biome.json',
    'docs',
  ])
})
