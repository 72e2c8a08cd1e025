// What a screen is told of a run while it goes on: what the hands do next, and the strokes so far.

import { expect, test } from 'vitest'
import { type Assessment, assess } from '../../../src/core/assess.ts'
import { step } from '../../../src/core/intake/run.ts'
import { liveOf } from '../../../src/core/view/live-view.ts'
import { findScenario } from '../../../src/simulation/find-scenario.ts'
import { shortened } from '../../../src/simulation/good-bench.ts'
import { runVirtually } from '../../../src/simulation/virtual-run.ts'
import { newRun, readEvent } from '../../harness/fold-events.ts'
import { makeForeignRecording, quietBench } from '../../harness/foreign-recording.ts'

test('on the way down it is never "draw on": to the break before it has let go, to the room afterwards', () => {
  const { events, strokes } = makeForeignRecording(quietBench)
  const told = { before: new Set<string>(), after: new Set<string>() }
  let run = newRun()
  let assessment: Assessment = null
  for (const event of events) {
    run = step(run, readEvent(event))
    if (event.type !== 'tick') continue
    const tS = run.tUs / 1e6
    // Once enough cycles have counted a stroke may be held at its peak.
    const stroke = strokes.slice(0, 5).find(({ startS, endS }) => startS < tS && tS < endS)
    // A meter that is asked five times a second and a display that is damped need a moment to tell.
    const [down, out] = stroke ? [tS > stroke.peakS + 1 && tS < stroke.breakS, tS > stroke.breakS + 1] : [false, false]
    if (!down && !out) continue
    assessment = assess(run, assessment)
    const { next } = liveOf(run, assessment)
    ;(down ? told.before : told.after).add(next)
  }
  expect(told.before.size).toBeGreaterThan(0)
  for (const next of told.before) expect(next).toMatch(/^Let down slowly and evenly through the break near/)
  expect(told.after.size).toBeGreaterThan(0)
  for (const next of told.after)
    expect(next).toMatch(
      /^(Switch released(: vent to the room|\. Keep this pace for a moment more, then vent)|Leave it vented)/,
    )
})

test('a stroke that was measured stays measured while the next one is on its way', () => {
  const { events, strokes } = makeForeignRecording(quietBench)
  const wrong: string[] = []
  let run = newRun()
  let seen = 0
  for (const event of events) {
    run = step(run, readEvent(event))
    if (event.type !== 'tick' || Math.round(run.tUs / 1e5) % 20 > 0 || run.tUs / 1e6 > strokes[2]!.endS) continue
    for (const { stroke, makePa, breakPa } of assess(run, null)?.result.cycles ?? []) {
      seen++
      if (makePa === null || breakPa === null) wrong.push(`stroke ${stroke} at ${run.tUs} µs`)
    }
  }
  expect(seen).toBeGreaterThan(20)
  expect(wrong).toEqual([])
})

test('a pressure that may harm the part is an alarm: beyond half of its proof pressure, and beyond twice its rated point', () => {
  const { events, strokes } = makeForeignRecording(quietBench)
  let run = newRun()
  for (const event of events) {
    if (run.tUs / 1e6 > strokes[0]!.peakS) break
    run = step(run, readEvent(event))
  }
  const setup = run.setup!
  const alarm = (rating: Partial<typeof setup.rating>) =>
    liveOf({ ...run, setup: { ...setup, rating: { ...setup.rating, ...rating } } }, null).alarm
  const peakPa = liveOf(run, null).pressurePa!
  expect(alarm({ proofPa: 1.9 * peakPa })).toMatch(/^More than half of the proof pressure: stop/)
  expect(alarm({ proofPa: 2.1 * peakPa })).toBeNull()
  expect(alarm({ ratedPa: peakPa / 2.1 })).toMatch(/^More than twice the rated point: stop/)
  expect(alarm({ ratedPa: peakPa / 1.9 })).toBeNull()
})

test('what a second manometer shows is told beside the first, and no more once it is lost: the test goes on', () => {
  let run = newRun()
  let apartPa = 0
  let lostUs: number | null = null
  for (const event of runVirtually(shortened(findScenario('second-lost', 1)), 1).events) {
    run = step(run, readEvent(event))
    if (event.type === 'link' && event.state === 'lost') lostUs = event.t
    if (event.type !== 'tick' || event.t < 1e6) continue
    const { atSwitchPa, pressurePa, alarm, guide } = liveOf(run, null)
    if (lostUs !== null) {
      expect(atSwitchPa).toBeNull()
      expect([alarm, guide?.action === 'lost']).toEqual([null, false])
    } else apartPa = Math.max(apartPa, Math.abs(atSwitchPa! - pressurePa!) / (10 + Math.abs(pressurePa!)))
  }
  expect(lostUs).not.toBeNull()
  expect(apartPa).toBeGreaterThan(0)
  expect(apartPa).toBeLessThan(2)
})
