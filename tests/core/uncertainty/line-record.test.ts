import { expect, test } from 'vitest'
import type { Setup } from '../../../src/core/model/setup.ts'
import { lineRecord } from '../../../src/core/uncertainty/line-record.ts'
import { resultFrom } from '../../harness/fold-events.ts'
import { makeForeignRecording, quietBench } from '../../harness/foreign-recording.ts'

/** A hose of so many seconds and a hand of one pace, with what a test of the line alone has shown in the rig; the bench began on 2026-03-14. */
function drawn(proved: object | undefined, hoseS = 0) {
  const { events } = makeForeignRecording({
    ...quietBench,
    cycles: 7,
    hoseS,
    at: '2026-03-14T09:00:00.000Z',
    ratePaPerS: () => 1.2,
    ...(proved ? { rig: { proved } } : {}),
  })
  return resultFrom(events)
}

const recording = '0197f0c2-5d1e-7b3a-9c40-2f6a8d1e5b77'
const line = { at: '2026-03-12', hoseS: 0.02, uHoseS: 0.01, leakPaPerS: 0.01, recording }

test('What a test of the line alone has shown within a week rules out a slow hose and a leak in its place.', () => {
  const bare = drawn(undefined)
  const { make, break: back } = drawn(line)
  // One pace rules out nothing: up to 3 s at 1.2 Pa/s.
  expect(bare.break.allowHighPa!).toBeGreaterThan(3)
  // 0.02 s + 1.645 × 0.01 s at 1.2 Pa/s.
  expect(back.allowHighPa!).toBeLessThan(0.06)
  expect(make.allowLowPa!).toBeLessThan(0.2)
  expect([make.valuePa, back.valuePa]).toEqual([bare.make.valuePa, bare.break.valuePa])
})

test.each([
  ['is older than a week', { ...line, at: '2026-03-06' }],
  ['lies in the days to come', { ...line, at: '2026-03-15' }],
  ['names no recording', { ...line, recording: null }],
])('A record that %s counts for nothing.', (_, proved) => {
  expect(drawn(proved)).toEqual(drawn(undefined))
})

test('The week goes over the end of a month, a leap day and a year, by the Gregorian calendar.', () => {
  const counts = (on: string, at: string) =>
    lineRecord({
      start: { at: `${at}T09:00:00.000Z` },
      rig: { proved: { on, hoseS: 0, uHoseS: 0.1, leakPaPerS: null } },
    } as unknown as Setup) !== null
  // 2028 is a leap year, 2026 is not.
  for (const [on, last, tooLate] of [
    ['2026-02-26', '2026-03-05', '2026-03-06'],
    ['2028-02-26', '2028-03-04', '2028-03-05'],
    ['2026-12-28', '2027-01-04', '2027-01-05'],
  ] as const)
    expect([counts(on, on), counts(on, last), counts(on, tooLate)]).toEqual([true, true, false])
})

test('A record says nothing against paces that show a longer hose.', () => {
  const { events } = makeForeignRecording({
    ...quietBench,
    cycles: 8,
    hoseS: 1.5,
    at: '2026-03-14T09:00:00.000Z',
    ratePaPerS: (stroke) => (stroke % 2 === 0 ? 1.2 : 3),
    rig: { proved: line },
  })
  const { make } = resultFrom(events)
  expect(Math.abs(make.valuePa! - quietBench.makePa)).toBeLessThan(make.UPa! + make.allowLowPa!)
})
