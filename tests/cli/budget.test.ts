// `replay --budget`: the table against the JSON of the same recording, and against its own sums.
import { beforeAll, describe, expect, test } from 'vitest'
import type { BudgetLine, Result } from '../../src/core/model/result.ts'
import { pressureUnits } from '../../src/core/model/units.ts'
import { runCommand } from '../harness/run-command.ts'
import { temporaryFolder } from '../harness/temporary-folder.ts'
import { expectRelative } from '../reference/near.ts'

const folder = temporaryFolder()
let out = ''
let result: Result

beforeAll(async () => {
  await runCommand(folder, ['simulate', 'good', '--seed', '5', '--short', '--out', '.'])
  out = (await runCommand(folder, ['replay', 'good-5.run', '--budget'])).out
  result = JSON.parse((await runCommand(folder, ['replay', 'good-5.run', '--json'])).out)
})

/** Rows of one quantity's table, columns apart by two spaces or more. */
function rowsOf(name: string): string[][] {
  const text = out.split(`Uncertainty budget of ${name}\n`)[1]?.split('\n\n')[0] ?? ''
  return text
    .split('\n')
    .filter((line) => line.trim() !== '' && !line.startsWith('  beside U, '))
    .map((line) => line.trim().split(/ {2,}/))
}

describe.each(['make', 'break', 'differential'] as const)('the table of %s', (name) => {
  test('has every component of the JSON, in the unit of the part and in pascal', () => {
    const [head, ...rows] = rowsOf(name)
    expect(head).toEqual(['component', 'value', 'distribution', 'divisor', 'sensitivity', 'u, inH2O', 'u, Pa', 'dof'])
    const lines = result.budget.filter((line: BudgetLine) => line.quantity === name)
    expect(rows.slice(0, -2).map((row) => row[0])).toEqual(lines.map((line) => line.component))
    for (const [i, line] of lines.entries()) {
      expectRelative(Number(rows[i]![6]), line.uPa, 0.006)
      expectRelative(Number(rows[i]![5]), line.uPa / pressureUnits.inH2O, 0.006)
    }
  })
  test('adds up: each u is value / divisor × sensitivity, and u together their root sum of squares', () => {
    const [, ...rows] = rowsOf(name)
    const components = rows.slice(0, -2)
    for (const [, value, , divisor, sensitivity, u] of components)
      expectRelative((Number.parseFloat(value!) / Number(divisor)) * Number.parseFloat(sensitivity!), Number(u), 0.012)
    const together = rows.at(-2)!.join(' ')
    const [, u, dof, k, U] = /u (\S+) inH2O .*dof (\S+), k (\S+), U (\S+) inH2O/.exec(together) ?? []
    expectRelative(Math.hypot(...components.map((row) => Number(row[5]))), Number(u), 0.01)
    expectRelative(Number(u) * Number(k), Number(U), 0.01)
    expect([result[name].k!.toFixed(2), dof === 'unlimited' || Number(dof) > 0]).toEqual([k, true])
  })
  test('tells the scatter of single trips, which six cycles do not make a repeatability', () => {
    const { scatterPa, n } = result[name]
    const [, shown, shownPa, cycles] = /^single trips: scatter \(s\) (\S+) inH2O \((\S+) Pa\), over (\d+) cycles$/.exec(
      rowsOf(name).at(-1)!.join('  '),
    )!
    expectRelative(Number(shownPa), scatterPa!, 0.05)
    expectRelative(Number(shown), scatterPa! / pressureUnits.inH2O, 0.05)
    expect(Number(cycles)).toBe(n)
  })
})

test('a recording without a trip that counts says so, and --json needs no --budget', async () => {
  await runCommand(folder, ['simulate', 'never-makes', '--seed', '1', '--short', '--out', '.'])
  const without = await runCommand(folder, ['replay', 'never-makes-1.run', '--budget'])
  expect(without.out).toMatch(/^No budget: no trip that counts\.$/m)
  const { status, err } = await runCommand(folder, ['replay', 'good-5.run', '--json', '--budget'])
  expect(status).toBe(64)
  expect(err).toMatch(/^makebreak: --json holds the budget already: leave --budget out\.\n/)
})
