import { readdirSync } from 'node:fs'
import { expect, test } from 'vitest'
import { type Found, tell } from '../../../src/core/diagnosis/diagnose.ts'
import { type FindingCode, findingRows } from '../../../src/core/diagnosis/findings.table.ts'
import type { FindingEffect } from '../../../src/core/model/result.ts'

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
