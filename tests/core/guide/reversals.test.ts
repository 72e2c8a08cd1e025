// What the guide says of a stroke while it is drawn against what is judged of it: one rule, so neither a false alarm nor silence.

import { describe, expect, test } from 'vitest'
import { analyse } from '../../../src/core/analyse.ts'
import { step } from '../../../src/core/intake/run.ts'
import type { WhyNot } from '../../../src/core/model/result.ts'
import { findScenario } from '../../../src/simulation/find-scenario.ts'
import type { Scenario } from '../../../src/simulation/scenario.ts'
import { airOf, gaugeOf, meterOf, planOf } from '../../../src/simulation/vary.ts'
import { newRun, readEvent } from '../../harness/fold-events.ts'
import { type Guided, runGuided } from '../../harness/guided-run.ts'

const good = findScenario('good', 1)
const ratedPa = good.plan.expectedMakePa

type Stroke = { inStroke: boolean; told: boolean; atItsEnd: WhyNot | null; inTheEnd: WhyNot | null }

/** Why a stroke is void, as it is judged when it ends. */
function judgedAtEnds(guided: Guided): (WhyNot | null)[] {
  const whys: (WhyNot | null)[] = []
  let run = newRun()
  for (const event of guided.events) {
    run = step(run, readEvent(event))
    if (run.strokes.length > whys.length) whys.push(analyse(run, run.setup!).cycles.at(-1)?.why ?? null)
  }
  return whys
}

function strokesOf(bench: Scenario): Stroke[] {
  const guided = runGuided(bench, { limitS: 300, seed: 3 })
  const atEnds = judgedAtEnds(guided)
  const { cycles } = analyse(guided.run, guided.run.setup!)
  return cycles.map(({ span, why }, i): Stroke => {
    const nextUs = cycles[i + 1]?.span.startUs ?? Number.POSITIVE_INFINITY
    const said = (fromUs: number, toUs: number) =>
      guided.seen.some(
        ({ tS, guide }) =>
          tS * 1e6 > fromUs && tS * 1e6 < toUs && guide.sentence.includes('void: reversed at the trip'),
      )
    return {
      inStroke: said(span.startUs, span.endUs),
      told: said(span.startUs, nextUs),
      atItsEnd: atEnds[i] ?? null,
      inTheEnd: why,
    }
  })
}

const turning: Record<string, Scenario> = {
  'goes back and forth near every trip': findScenario('hasty-hand', 1),
  'goes back a little': planOf(good, { reversalPa: 0.03 * ratedPa }),
  'draws with a plunger that sticks and slips': planOf(good, { slipMm: 0.3 }),
  'draws so with little ballast': planOf(airOf(good, { ballastL: 1 }), { slipMm: 0.1 }),
  'draws so with none': findScenario('no-ballast', 1),
  trembles: planOf(good, { tremor: { hz: 3, amplitudeMm: 0.5 } }),
}

const onward: Record<string, Scenario> = {
  'goes back less than counts': planOf(good, { reversalPa: 0.015 * ratedPa }),
  'pauses now and then': planOf(good, { pauses: { everyS: 6, forS: 2 } }),
  'pauses at its trips': planOf(good, { tripPauses: { share: 0.7, fromS: 1, toS: 4 } }),
  'feels a kick of a tenth of the rated point': airOf(good, { ballastL: 2 }),
  'draws briskly': planOf(good, { slowPaPerS: [4], briskFactor: 1.5 }),
  'has a meter that hunts for its range': findScenario('auto-range', 1),
  'has a meter that is late': meterOf(good, { delayS: 0.8 }),
  'has a display that is late': gaugeOf(good, { deadS: 0.6, dampingS: 0.4 }),
}

describe('A hand that turns back', () => {
  const all: Stroke[] = []
  test.each(Object.entries(turning))('and %s is stopped where the cycle is void, and nowhere else', (_, bench) => {
    const strokes = strokesOf(bench)
    all.push(...strokes)
    for (const { inStroke, told, atItsEnd, inTheEnd } of strokes) {
      if (inStroke) expect(['reversal', 'chatter']).toContain(inTheEnd)
      if (atItsEnd === 'reversal') expect(told).toBe(true)
    }
  })

  test('is mostly stopped while it can still vent', () => {
    const reversed = all.filter((s) => s.inTheEnd === 'reversal')
    expect(reversed.length).toBeGreaterThan(15)
    expect(reversed.filter((s) => s.inStroke).length).toBeGreaterThan(0.8 * reversed.length)
  })
})

describe('A hand that never turns back', () => {
  test.each(Object.entries(onward))('and %s is never told so', (_, bench) => {
    const strokes = strokesOf(bench)
    expect(strokes.length).toBeGreaterThan(4)
    for (const { told, inTheEnd } of strokes) {
      expect(inTheEnd).not.toBe('reversal')
      expect(told).toBe(false)
    }
  })
})
