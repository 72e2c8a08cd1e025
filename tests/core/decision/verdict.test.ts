import { describe, expect, test } from 'vitest'
import { type Run, step } from '../../../src/core/intake/run.ts'
import { resultOf } from '../../../src/core/judge.ts'
import type { Verdict } from '../../../src/core/model/result.ts'
import { foldEvents, sealRun } from '../../harness/fold-events.ts'
import { type ForeignRecording, rewrite } from '../../harness/foreign-recording.ts'
import { found, judged, restarted, session } from '../diagnosis/sessions.ts'

const good = session()
const failing = session({ makePa: 74, breakPa: 60 })
const goodRun = foldEvents(good.events)
const verdictOf = (run: Run): Verdict => resultOf(run)!.verdict
const start = good.events[0] as unknown as { part: object; rig: { manometer: object; meter: object } }
const ended = (recording: ForeignRecording, reason: string) => ({
  ...recording,
  events: recording.events.map((e) => (e.type === 'end' ? { ...e, reason } : e)),
})

test('A good part, recorded whole, passes.', () => {
  expect(judged(good)).toMatchObject({ verdict: 'pass', findings: [], damage: { seal: 'intact', torn: false } })
})

describe('void stands before everything', () => {
  test('a corrupt line', () => {
    const corrupt = { type: 'corrupt', line: 7, offset: 900, why: 'its checksum does not match' } as const
    const run = sealRun(step(goodRun, corrupt))
    expect(verdictOf(run)).toBe('void')
    expect(resultOf(run)!.damage.corruptLines).toEqual([7])
    expect(verdictOf(sealRun(step(foldEvents(restarted(good, { purpose: 'free' }).events), corrupt)))).toBe('void')
  })
  test('a seal that does not match, even with one that matches behind it', () => {
    const broken = sealRun(goodRun, false)
    expect(verdictOf(broken)).toBe('void')
    expect(resultOf(broken)!.damage.seal).toBe('broken')
    expect(verdictOf(sealRun(broken))).toBe('void')
  })
  test('a finding whose effect is void, on a part that would fail', () => {
    const recording = session({ makePa: 74, breakPa: 60, offsetPa: () => 4 })
    expect(judged(recording).verdict).toBe('void')
  })
})

describe('not-assessed stands before fail', () => {
  test.each(['free', 'leak', 'in-place'])('purpose %s', (purpose) => {
    expect(judged(restarted(good, { purpose })).verdict).toBe('not-assessed')
    expect(judged(restarted(failing, { purpose })).verdict).toBe('not-assessed')
  })
  test.each(['certify', 'check-switch', 'return'])('purpose %s is assessed', (purpose) => {
    expect(judged(restarted(good, { purpose })).verdict).toBe('pass')
    expect(judged(restarted(failing, { purpose })).verdict).toBe('fail')
  })
  test('a part without any limit: measured all the same', () => {
    const bare = restarted(failing, { part: { ...start.part, limits: null, contact: null } })
    expect(judged(bare).verdict).toBe('not-assessed')
    expect(judged(bare).make.n).toBe(5)
    expect(judged(bare).limits.map((l) => l.outcome)).toEqual(Array(6).fill('not-assessed'))
  })
  test('a manometer of unknown accuracy', () => {
    const rig = { ...start.rig, manometer: { ...start.rig.manometer, accuracy: null } }
    expect(judged(restarted(failing, { rig })).verdict).toBe('not-assessed')
  })
  test('a manometer whose certificate has run out; on its last day it is good', () => {
    const due = (day: string) => {
      const rig = { ...start.rig, manometer: { ...start.rig.manometer, identity: { due: day } } }
      return judged(restarted(good, { rig, at: '2026-03-02T23:30:00.000Z' })).verdict
    }
    expect([due('2026-03-01'), due('2026-03-02'), due('2026-03-03')]).toEqual(['not-assessed', 'pass', 'pass'])
  })
})

describe('fail stands before undecided', () => {
  test('a part out of its limits, in a recording that is torn, unsealed or abandoned', () => {
    const run = foldEvents(failing.events)
    expect(verdictOf(sealRun(run))).toBe('fail')
    expect(verdictOf(run)).toBe('fail')
    expect(verdictOf(step(run, { type: 'torn', bytes: 12 }))).toBe('fail')
    expect(judged(ended(failing, 'abandoned')).verdict).toBe('fail')
  })
  test('a finding whose effect is fail beside one that is undecided', () => {
    const both = session({ shiftPa: (stroke) => (stroke === 0 ? 5 : 0), contactOhm: () => 2.5 })
    expect(found(both).map(([, effect]) => effect)).toEqual(['fail', 'undecided', 'undecided'])
    expect(judged(both).verdict).toBe('fail')
  })
})

describe('undecided stands before pass', () => {
  test('no seal', () => {
    const run = goodRun
    expect(verdictOf(run)).toBe('undecided')
    expect(resultOf(run)!.damage.seal).toBe('missing')
  })
  test('something after the last seal, which the seal does not cover', () => {
    const sealed = sealRun(goodRun)
    const later = step(sealed, { type: 'tick', t: sealed.tUs })
    expect(verdictOf(later)).toBe('undecided')
    expect(verdictOf(sealRun(later))).toBe('pass')
  })
  test('torn bytes at the end', () => {
    expect(verdictOf(step(sealRun(goodRun), { type: 'torn', bytes: 3 }))).toBe('undecided')
  })
  test.each(['abandoned', 'link-lost', 'over-pressure'])('end reason %s', (reason) => {
    expect(judged(ended(good, reason)).verdict).toBe('undecided')
  })
  test('no end', () => {
    expect(verdictOf(sealRun(foldEvents(good.events.slice(0, -1))))).toBe('undecided')
  })
  test('fewer than five cycles that count; five are enough', () => {
    const [four, five] = [session({ cycles: 4 }), session({ cycles: 5 })]
    expect(judged(four)).toMatchObject({ verdict: 'undecided', findings: [] })
    expect(judged(four).limits.every((l) => l.outcome === 'pass')).toBe(true)
    expect(judged(five).verdict).toBe('pass')
  })
  test('a contact limit without a closed reading to hold against it', () => {
    const open = rewrite(session({ kickPa: 0 }), 'meter', () => '+9.9E+37\n')
    expect(judged(open).limits.find((l) => l.name === 'contact')?.outcome).toBe('undecided')
    expect(judged(open).verdict).toBe('undecided')
  })
})

test('The recorded verdict of the time is no input.', () => {
  const told = (run: Run, result: unknown) => resultOf(sealRun(step(run, { type: 'verdict', t: run.tUs, result })))!
  expect(told(goodRun, { verdict: 'fail' })).toMatchObject({
    verdict: 'pass',
    recorded: { verdict: 'fail', software: null },
  })
  expect(told(foldEvents(failing.events), { verdict: 'pass' }).verdict).toBe('fail')
  for (const nothing of [null, 'pass', { verdict: 'fine' }]) expect(told(goodRun, nothing).recorded).toBeNull()
  const by = foldEvents(restarted(good, { software: 'makebreak 0.1.0' }).events)
  expect(told(by, { verdict: 'pass' }).recorded).toEqual({ verdict: 'pass', software: '0.1.0' })
})
