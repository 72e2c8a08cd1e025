// The cautions over whole tests on simulated benches: what waits for them, and what was drawn before they were read.
import { expect, test } from 'vitest'
import { step } from '../../../src/core/intake/run.ts'
import { resultOf } from '../../../src/core/judge.ts'
import { cautionsOf, cautionsWaitNote } from '../../../src/core/model/cautions.ts'
import { findScenario } from '../../../src/simulation/find-scenario.ts'
import { newRun, readEvent } from '../../harness/fold-events.ts'
import { runGuided, usualFlow } from '../../harness/guided-run.ts'

const good = findScenario('good', 1)
const cautionsWait = `note: ${cautionsWaitNote}`

test('with a screen the first stroke waits until every caution is acknowledged', () => {
  const names = cautionsOf('certify').map(({ name }) => name)
  const operator = names.map((text) => ({ atS: 30, mark: 'caution' as const, text }))
  const asked = runGuided(good, { flow: { ...usualFlow, asks: true }, operator, limitS: 60 })
  expect(asked.marks).toEqual(
    [cautionsWait, 'zero', ...names.map((name) => `caution: ${name}`), 'first-stroke'].slice(0, asked.marks.length),
  )
  expect(asked.marks).toContain('first-stroke')
  const before = asked.seen.filter(({ tS }) => tS > 15 && tS < 29)
  expect(new Set(before.map(({ guide }) => guide.action))).toEqual(new Set(['read']))
  expect(before[0]!.guide.cautions.map(({ name }) => name)).toEqual(names)
  expect(asked.seen.at(-1)!.guide.cautions).toEqual([])
})

test('strokes that were drawn before the cautions were acknowledged do not count, then or when it is replayed', () => {
  const names = cautionsOf('certify').map(({ name }) => name)
  const plan = { ...good.plan, zeroS: 14, cycles: 8, slowPaPerS: [1.2] }
  const flow = { ...usualFlow, asks: true }
  const readS = 130
  const operator = [
    ...names.map((text) => ({ atS: readS, mark: 'caution' as const, text })),
    { atS: readS + 1, mark: 'note' as const, text: 'Skipped hold: no time' },
  ]
  const early = runGuided({ ...good, plan }, { orders: 'plan', flow, operator, limitS: 900 })
  const unread = early.seen.filter(({ tS }) => tS > 15 && tS < readS).map(({ guide }) => guide)
  expect(new Set(unread.map(({ action }) => action))).toEqual(new Set(['read', 'vent']))
  expect(unread.map(({ sentence }) => sentence)).toContain(
    'This stroke does not count: vent, read the cautions, then press Enter.',
  )
  expect(early.marks.indexOf('cycles')).toBeGreaterThan(early.marks.indexOf(`caution: ${names.at(-1)}`))
  const spans = early.run.strokes.items
  const { cycles } = resultOf(early.run)!
  const drawnUnread = cycles.filter((_, i) => spans[i]!.startUs < readS * 1e6)
  expect(drawnUnread.length).toBeGreaterThan(1)
  expect(drawnUnread.filter((c) => c.used)).toEqual([])
  expect(cycles.filter((c) => c.used).length).toBeGreaterThan(0)
  const again = early.events.map(readEvent).reduce(step, newRun())
  expect(resultOf(again)!.cycles).toEqual(cycles)
})

test('a test whose cautions were never acknowledged counts no stroke', () => {
  const plan = { ...good.plan, zeroS: 14, cycles: 8, slowPaPerS: [1.2] }
  const { run } = runGuided({ ...good, plan }, { orders: 'plan', flow: { ...usualFlow, asks: true }, limitS: 500 })
  const result = resultOf(run)!
  expect(result.acted!.strokes).toBeGreaterThan(5)
  expect(result.make.n).toBe(0)
  expect(result.verdict).toBe('undecided')
})
