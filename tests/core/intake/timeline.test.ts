// The run at any time of a recording, forwards, backwards and in leaps, against the same events folded from the start.
import { expect, test } from 'vitest'
import { initialRun, step } from '../../../src/core/intake/run.ts'
import { createTimeline } from '../../../src/core/intake/timeline.ts'
import { findScenario } from '../../../src/simulation/find-scenario.ts'
import { runVirtually } from '../../../src/simulation/virtual-run.ts'
import { newRun, readEvent } from '../../harness/fold-events.ts'

const events = [...runVirtually(findScenario('good', 1), 1).events]
  .filter(({ type }) => type !== 'seal')
  .slice(0, 4000)
  .map(readEvent)
const timeline = createTimeline(events, newRun())

/** What the state at `tUs` must hold: the events up to then, from the first. */
function folded(tUs: number) {
  let run = newRun()
  for (const event of events) if (!('t' in event) || (event.t as number) <= tUs) run = step(run, event)
  return run
}

test('a run is the same however one came to it', () => {
  const end = timeline.endUs
  for (const tUs of [0, 0.3 * end, 0.9 * end, 0.2 * end, 0.2 * end + 1, end, 0.5 * end, 2 * end]) {
    const [run, expected] = [timeline.at(tUs), folded(tUs)]
    expect({ ...run, pressure: null, contact: null, marks: null, linkBreaks: null, strokes: null }.tUs).toBe(
      expected.tUs,
    )
    for (const columns of ['pressure', 'contact'] as const)
      expect(run[columns].slice()).toEqual(expected[columns].slice())
    for (const series of ['marks', 'strokes'] as const)
      expect(run[series].items.slice(0, run[series].length)).toEqual(
        expected[series].items.slice(0, expected[series].length),
      )
    expect(run.tracker).toEqual(expected.tracker)
  }
})

test('before its first event, and of no events, it is the run it began with', () => {
  expect(timeline.at(-1).setup).toBeNull()
  const empty = createTimeline([], newRun())
  expect(empty.endUs).toBe(0)
  expect(empty.at(5).tUs).toBe(0)
})

test('what has no time of its own belongs to the event before it', () => {
  const damaged = [
    ...events.slice(0, 100),
    { type: 'corrupt' as const, line: 101, offset: 0, why: 'x' },
    ...events.slice(100),
  ]
  const at = createTimeline(damaged, initialRun(newRun().findDecode))
  const before = events[99]!
  expect(at.at('t' in before ? (before.t as number) : 0).damage.corrupt.last).toEqual({ from: 101, to: 101 })
})
