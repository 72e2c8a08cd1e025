// A computer that sleeps while the hand draws: what the hand is told, and what becomes of that stroke.
import { expect, test } from 'vitest'
import { assess } from '../../../src/core/assess.ts'
import { guideOf } from '../../../src/core/guide/guide.ts'
import { type Run, step } from '../../../src/core/intake/run.ts'
import { findScenario } from '../../../src/simulation/find-scenario.ts'
import { newRun, readEvent } from '../../harness/fold-events.ts'
import { runGuided, usualFlow } from '../../harness/guided-run.ts'

const guided = runGuided(findScenario('good', 1))
const cyclesOf = (run: Run) => assess(run, null)!.result.cycles
const counted = cyclesOf(guided.run).findIndex(({ used }) => used)
const stroke = guided.run.strokes.items[counted]!
const sleepS = 4
const asleepUs = stroke.startUs + (stroke.endUs - stroke.startUs) / 4

/** The run up to `untilUs` of the time awake, its clock ahead by the sleep from the moment of that on. */
function foldUntil(untilUs: number) {
  let run = newRun()
  for (const event of guided.events as { t?: number }[]) {
    const { t = 0 } = event
    if (t > untilUs) break
    run = step(run, readEvent(t > asleepUs ? { ...event, t: t + sleepS * 1e6 } : event))
  }
  return run
}

test('the hand is told to vent and to draw that stroke again', () => {
  const run = foldUntil(asleepUs + 500_000)
  expect(guideOf(run, run.setup!, assess(run, null), usualFlow)).toMatchObject({
    action: 'vent',
    sentence: expect.stringMatching(
      /^The computer slept in this stroke, so it does not count\. Vent, then go on with the [a-z ]+: draw this stroke again\.$/,
    ),
  })
})

test('the stroke is void for the gap in it, and no other is', () => {
  const run = foldUntil(guided.run.tUs)
  const awake = cyclesOf(guided.run).map(({ why }) => why)
  expect(awake).not.toContain('gap')
  expect(cyclesOf(run).map(({ why }) => why)).toEqual(awake.with(counted, 'gap'))
})
