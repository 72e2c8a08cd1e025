import { readdirSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { analyse } from '../../../src/core/analyse.ts'
import { nothingContradicted } from '../../../src/core/decision/contradictions.ts'
import { besideOf, decide } from '../../../src/core/decision/verdict.ts'
import { diagnose, type Found, takeBack, tell } from '../../../src/core/diagnosis/diagnose.ts'
import { type FindingCode, findingRows } from '../../../src/core/diagnosis/findings.table.ts'
import { takeBacks } from '../../../src/core/diagnosis/take-back.table.ts'
import type { FindingEffect, Verdict } from '../../../src/core/model/result.ts'
import { foldEvents, resultFrom, sealRun } from '../../harness/fold-events.ts'
import { createRandom } from '../../harness/foreign-recording.ts'
import { found, judged, session } from './sessions.ts'

const effects: readonly FindingEffect[] = ['void', 'fail', 'undecided', 'note']
const codes = Object.keys(findingRows) as FindingCode[]
const one = (code: FindingCode, effect: FindingEffect): Found => ({
  code,
  effect,
  tUs: 0,
  text: `${code}.`,
  evidence: {},
})
const pairs = codes.flatMap((a) => codes.filter((b) => b !== a).map((b) => [a, b] as const))
const worst = (found: readonly { effect: FindingEffect }[]) =>
  Math.min(...found.map(({ effect }) => effects.indexOf(effect)))

test('each rule has a file named for its finding, and each file a row of the table', () => {
  const files = readdirSync(new URL('../../../src/core/diagnosis/rules/', import.meta.url))
  expect(files.map((name) => name.replace(/\.ts$/, '')).sort()).toEqual([...codes].sort())
})

test('however two findings meet, what is told is as grave as the graver of them', () => {
  for (const [a, b] of pairs)
    for (const of of effects)
      for (const beside of effects) {
        const found = [one(a, of), one(b, beside)]
        expect(worst(tell(found)), `${of} ${a} beside ${beside} ${b}`).toBe(worst(found))
      }
})

test('a finding that is added never makes what is told less grave', () => {
  const ranked = codes.filter((code) => findingRows[code].rank !== null)
  for (const [a, b] of pairs.filter((pair) => pair.every((code) => ranked.includes(code))))
    for (const c of codes)
      for (const effect of effects) {
        const before = [one(a, 'fail'), one(b, 'undecided')]
        expect(worst(tell([...before, one(c, effect)])), `${effect} ${c}`).toBeLessThanOrEqual(worst(tell(before)))
      }
})

test('a meter that hunts for its range, a note, hides neither spread nor a rating that is off', () => {
  const told = tell([one('meter-auto-range', 'note'), one('spread', 'fail'), one('off-rating', 'fail')])
  expect(told.map((f) => f.code)).toEqual(['spread', 'meter-auto-range'])
  expect(tell([one('meter-auto-range', 'note'), one('off-rating', 'fail')])).toHaveLength(2)
})

test('a cause that is as grave silences its symptoms', () => {
  expect(tell([one('off-rating', 'fail'), one('water-in-line', 'void')]).map((f) => f.code)).toEqual(['water-in-line'])
  expect(tell([one('weakening', 'undecided'), one('chatter', 'undecided')]).map((f) => f.code)).toEqual(['chatter'])
})

const good = session()
const goodRun = sealRun(foldEvents(good.events))
const { limits: met } = resultFrom(good.events)

/** What a good test would come to with these findings beside it. */
function comesTo(all: readonly Found[]): { verdict: Verdict; beside: string | null } {
  const evidence = takeBack(all, met)
  const verdict = decide(goodRun, goodRun.setup!, 6, evidence)
  return { verdict, beside: besideOf(verdict, evidence) }
}

/** pass < undecided < fail; a void with a fail beside it keeps the fail, one without stands apart. */
function gravityOf(all: readonly Found[]): number {
  const { verdict, beside } = comesTo(all)
  return verdict === 'fail' || beside !== null ? 2 : verdict === 'pass' ? 0 : 1
}

const isTaken = (cause: Found, fail: Found) =>
  fail.effect === 'fail' &&
  (cause.effect === 'void' || cause.effect === 'undecided') &&
  takeBacks.some((row) => row.cause === cause.code && row.takes.includes(fail.code))

describe('The verdict counts all that was found:', () => {
  test('a finding that is added to another never improves it, but for the rows of the table', () => {
    for (const [a, b] of pairs)
      for (const of of effects)
        for (const beside of effects) {
          const [first, second] = [one(a, of), one(b, beside)]
          const [before, after] = [gravityOf([first]), gravityOf([first, second])]
          const told = `${of} ${a}, then ${beside} ${b}`
          if (isTaken(second, first)) expect(comesTo([first, second]).verdict, told).toBe(beside)
          else expect(after, told).toBeGreaterThanOrEqual(before)
        }
  })
  test('nor does one that is added to a set drawn at random', () => {
    const random = createRandom(20)
    const draw = () =>
      one(codes[Math.floor(random.uniform() * codes.length)]!, effects[Math.floor(random.uniform() * 4)]!)
    for (let i = 0; i < 4000; i++) {
      const set = Array.from({ length: 1 + Math.floor(random.uniform() * 6) }, draw)
      const more = draw()
      const all = [...set, more]
      const told = all.map(({ code, effect }) => `${effect} ${code}`).join(', ')
      // A fail that no row takes back stays one, whatever is found with it.
      const kept = all.some((f) => f.effect === 'fail' && !all.some((cause) => isTaken(cause, f)))
      if (kept) expect(gravityOf(all), told).toBe(2)
      if (!set.some((f) => isTaken(more, f))) expect(gravityOf(all), told).toBeGreaterThanOrEqual(gravityOf(set))
      if (comesTo(set).verdict !== 'pass') expect(comesTo(all).verdict, told).not.toBe('pass')
    }
  })
  test('what a cause silences is not told, and stays in the evidence', () => {
    const wet = session({ makePa: 74, breakPa: 60, offsetPa: () => 4 })
    const run = sealRun(foldEvents(wet.events))
    const { limits } = resultFrom(wet.events)
    const { told, found: counted } = diagnose({
      ...analyse(run, run.setup!),
      limits,
      notProved: null,
      contradicted: nothingContradicted,
    })
    expect(told.map((f) => f.code)).toEqual(['water-in-line'])
    expect(counted.map((f) => f.code)).toContain('off-rating')
  })
  test('a fail that its cause silences is told beside the void', () => {
    const frozen = [one('frozen-reading', 'void'), one('spread', 'fail')]
    expect(tell(frozen).map((f) => f.code)).toEqual(['frozen-reading'])
    expect(comesTo(frozen)).toEqual({ verdict: 'void', beside: 'spread.' })
  })
})

describe('A fail is taken back', () => {
  test('only by faults of the bench that leave a test void or undecided, each with its reason', () => {
    for (const { cause, takes, reason } of takeBacks) {
      expect(findingRows[cause].effects.every((effect) => effect === 'void' || effect === 'undecided')).toBe(true)
      for (const code of takes) expect(findingRows[code].effects, code).toContain('fail')
      expect(reason.length).toBeGreaterThan(20)
    }
    expect(new Set(takeBacks.map(({ cause }) => cause)).size).toBe(takeBacks.length)
  })
  test('to the effect of its cause: with water in the line a rating that is off is no fail beside the void', () => {
    const wet = session({ makePa: 74, breakPa: 60, offsetPa: () => 4 })
    expect(found(wet)).toEqual([['water-in-line', 'void']])
    expect(judged(wet)).toMatchObject({ verdict: 'void', beside: null })
    // The contact has nothing to do with the water.
    expect(judged(session({ offsetPa: () => 4, contactOhm: () => 2.5 })).beside).toMatch(/2\.5 Ω, more than 2 Ω/)
  })
})
