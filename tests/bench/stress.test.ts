// A short version of `npm run bench:stress`: few rows, few sessions, the bars that a program must never miss.
import { expect, test } from 'vitest'
import { chanceAbove, isRight, leastCovered, missedBars, mostAtLimit, type Sessions, tallyOf } from './stress-bars.ts'
import { cells, fairBench, quantities } from './stress-benches.ts'
import { stressRows } from './stress-rows.table.ts'
import { type Held, heldOf, referenceU, runSession, type Session } from './stress-session.ts'

const rowNamed = (name: string) => stressRows.find((row) => row.name === name)!
const U = referenceU('usual', 3)
const run = (name: string, sessions: number) =>
  tallyOf(
    rowNamed(name),
    Object.fromEntries(
      cells.map((cell) => [
        cell,
        Array.from({ length: sessions }, (_, i) => runSession(rowNamed(name), cell, U, 1 + i)),
      ]),
    ) as unknown as Sessions,
  )

test('good: no part outside a limit passes, no part well inside fails', () => {
  const tally = run('good', 3)
  for (const cell of ['out-2', 'out-1', 'out-0.5'] as const) expect(tally.cells[cell].passed).toBe(0)
  expect(tally.cells.good).toMatchObject({ passed: 3, failed: 0 })
})

test.each(['no-make', 'stays-closed', 'first-break-low', 'discarded-low', 'hunt-spread', 'contact-limit-only'])(
  '%s: no session passes, each names why',
  (name) => expect(missedBars(run(name, 1))).toEqual([]),
)

// Each of these benches once let parts outside a limit pass, or failed good ones.
test.each(['hose-steady', 'diaphragm-leak', 'kick-hand', 'certificate-bow', 'quick-vent', 'kick-strong'])(
  '%s: no part outside a limit passes, and no good one fails',
  (name) => {
    for (const [cell, wrong] of [
      ['out-1', 'pass'],
      ['good', 'fail'],
    ] as const)
      for (const number of [1, 2]) expect(runSession(rowNamed(name), cell, U, number).verdict).not.toBe(wrong)
  },
)

test('hose-quick: no part outside a limit passes', () => {
  for (const number of [1, 2, 3])
    expect(runSession(rowNamed('hose-quick'), 'out-0.5', U, number).verdict).not.toBe('pass')
})

test('each row has a name of its own and a sentence; where values may be wrong something may be said', () => {
  expect(new Set(stressRows.map((row) => row.name)).size).toBe(stressRows.length)
  for (const row of stressRows) {
    expect(row.sentence).toMatch(/^[A-Z].*\.$/)
    if (row.fault !== 'none') expect(row.maySay.verdicts.length).toBeGreaterThan(0)
  }
})

test('the truth lies where the cell wants it, on the side that the row is put to', () => {
  for (let seed = 0; seed < 40; seed++) {
    const trips = (cell: (typeof cells)[number], side: 'low' | 'high' | 'both') =>
      fairBench('usual', cell, { quantity: 'make', side }, U, seed).truth.switch
    // 0.22 and 0.28 inH2O, 249.08891 Pa each (NIST SP 811).
    expect(trips('out-2', 'low').makePa).toBeCloseTo(0.22 * 249.08891 - 2 * U.make, 9)
    expect(trips('limit', 'high').makePa).toBeCloseTo(0.28 * 249.08891, 9)
    expect(trips('out-1', 'both').makePa).toBeCloseTo(
      seed % 2 === 1 ? 0.22 * 249.08891 - U.make : 0.28 * 249.08891 + U.make,
      9,
    )
    const good = trips('good', 'both')
    expect(good.makePa).toBeGreaterThanOrEqual(0.22 * 249.08891 + 2 * U.make)
    expect(good.makePa).toBeLessThanOrEqual(0.28 * 249.08891 - 2 * U.make)
    expect(good.breakPa).toBeGreaterThanOrEqual(0.15 * 249.08891 + 2 * U.break)
    expect(good.makePa - good.breakPa).toBeLessThanOrEqual(0.09 * 249.08891 - 2 * U.differential)
  }
})

// The two numbers that the bars are stated by, and the tail of the binomial distribution by hand: 1 − 0.975² − 2 · 0.025 · 0.975.
test('the bars scale with the sessions: 13 and 181 of 200, and what is as rare for fewer', () => {
  expect(chanceAbove(1, 2, 0.025)).toBeCloseTo(0.025 ** 2, 12)
  expect(mostAtLimit(200)).toBe(13)
  expect(leastCovered(200)).toBe(181)
  // Of 20: more than 4 outside has a chance of 0.0026, as more than 19 of 200 has 0.0027.
  expect(leastCovered(20)).toBe(16)
  expect(chanceAbove(mostAtLimit(20), 20, 0.025)).toBeLessThan(chanceAbove(13, 200, 0.025))
  expect(chanceAbove(mostAtLimit(20) - 1, 20, 0.025)).toBeGreaterThan(chanceAbove(13, 200, 0.025))
})

const held = (errorPa: number): Held => ({
  errorPa,
  UPa: 1,
  allowLowPa: 0,
  allowHighPa: 0,
  within: Math.abs(errorPa) <= 1,
})
const session = (verdict: Session['verdict'], errorPa: number, ...names: string[]): Session => ({
  verdict,
  names,
  held: { make: held(errorPa), break: held(errorPa), differential: held(errorPa) },
})

test('an allowance widens its own side only, and a value that is missing holds nothing', () => {
  const estimate = {
    valuePa: 60,
    uPa: 0.5,
    UPa: 1,
    k: 2,
    dof: null,
    n: 6,
    scatterPa: 0.3,
    allowLowPa: 0,
    allowHighPa: 0,
  }
  expect(heldOf(estimate, 58.5)).toMatchObject({ within: false, errorPa: 1.5 })
  expect(heldOf({ ...estimate, allowLowPa: 0.6 }, 58.5)?.within).toBe(true)
  expect(heldOf({ ...estimate, allowHighPa: 0.6 }, 58.5)?.within).toBe(false)
  expect(heldOf({ ...estimate, allowHighPa: 0.6 }, 61.5)?.within).toBe(true)
  expect(heldOf({ ...estimate, valuePa: null }, 60)).toBeNull()
})

test('wrong values are right only where the doubt is named; a faulty part is never right by its values', () => {
  const hose = rowNamed('hose-steady')
  expect(isRight(hose, 'good', session('pass', 0.5), 'make')).toBe(true)
  expect(isRight(hose, 'good', session('pass', 1.5), 'make')).toBe(false)
  expect(isRight(hose, 'good', session('undecided', 1.5, 'zero-moved'), 'make')).toBe(false)
  expect(isRight(hose, 'good', session('undecided', 1.5, 'lag-not-proved'), 'make')).toBe(true)
  expect(isRight(hose, 'good', session('fail', 1.5, 'lag-not-proved'), 'make')).toBe(false)
  expect(isRight(hose, 'limit', session('fail', 1.5, 'lag-not-proved'), 'make')).toBe(false)
  expect(isRight(hose, 'out-1', session('fail', 1.5, 'lag-not-proved'), 'make')).toBe(true)
  expect(isRight(hose, 'out-1', session('fail', 1.5), 'make')).toBe(false)
  expect(isRight(rowNamed('no-make'), 'out-1', session('pass', 0), 'make')).toBe(false)
  expect(isRight(rowNamed('no-make'), 'out-1', session('fail', 0, 'did-not-make'), 'make')).toBe(true)
})

test('a row is as right as the quantity of which it is least right', () => {
  const row = rowNamed('pauses')
  const breakOff = (i: number): Session => ({
    ...session('pass', 0.5),
    held: { make: held(0.5), break: held(i < 3 ? 1.5 : 0.5), differential: held(i < 1 ? 1.5 : 0.5) },
  })
  const sessions = Object.fromEntries(cells.map((cell) => [cell, Array.from({ length: 20 }, (_, i) => breakOff(i))]))
  expect(tallyOf(row, sessions as unknown as Sessions).rightShare).toBeCloseTo(0.85)
})

test('a program that passes what it must not, or fails what is good, misses its bars by name', () => {
  const all = (of: (cell: string) => Session): Sessions =>
    Object.fromEntries(cells.map((cell) => [cell, Array.from({ length: 20 }, () => of(cell))])) as unknown as Sessions
  const honest = (cell: string) => session(cell === 'good' ? 'pass' : 'fail', 0.45)
  const row = rowNamed('good')
  expect(missedBars(tallyOf(row, all(honest)))).toEqual([])
  const passes = missedBars(
    tallyOf(
      row,
      all(() => session('pass', 0.45)),
    ),
  )
  expect(passes).toHaveLength(4)
  expect(passes[0]).toBe('good: 20 of 20 pass at out-2, at most 0 may')
  expect(
    missedBars(
      tallyOf(
        row,
        all(() => session('fail', 0.45)),
      ),
    ).join(),
  ).toMatch(/20 of 20 good parts fail/)
  const off = missedBars(
    tallyOf(
      row,
      all((cell) => ({ ...honest(cell), held: session('pass', 1.5).held })),
    ),
  )
  expect(off.filter((sentence) => sentence.includes('holds the truth in 0 of 20'))).toHaveLength(
    cells.length * quantities.length,
  )
  const wide = missedBars(
    tallyOf(
      row,
      all((cell) => ({ ...honest(cell), held: session('pass', 0.1).held })),
    ),
  )
  expect(wide.every((sentence) => /U of the .* bar 1\.3/.test(sentence))).toBe(true)
  expect(wide).toHaveLength(3)
})
