// A name and a seed into a scenario: one of the table, or `random`: a bench drawn by chance, good or faulty, with its truth.

import { ratingOf } from '../core/model/part.ts'
import { Problem } from '../errors.ts'
import { goodBench } from './good-bench.ts'
import { createRandom, type Random } from './random.ts'
import type { Scenario } from './scenario.ts'
import { variations } from './scenarios.table.ts'

/** Names of the table, in its order; `random` is understood besides. */
export const scenarioNames: readonly string[] = Object.keys(variations)

/** The scenario of that name; `seed` matters for `random` only. Throws a Problem naming the known ones otherwise. */
export function findScenario(name: string, seed: number): Scenario {
  if (name === 'random') return randomScenario(seed)
  if (!Object.hasOwn(variations, name))
    throw new Problem('scenario-unknown', `No simulated bench "${name}"; there are ${scenarioNames.join(', ')}.`)
  return vary(goodBench(), name)
}

/** A bench drawn by chance: about half of them good, the rest with one fault of the table. */
export function randomScenario(seed: number): Scenario {
  const random = createRandom(seed).fork('scenario')
  const name = random.uniform() < 0.5 ? random.pick(goodNames) : random.pick(faultNames)
  return vary(randomGoodBench(random), name)
}

const isGood = (name: string) => {
  const { expected } = variations[name]!
  return expected.verdict === 'pass' && expected.findings.length === 0
}
const goodNames = scenarioNames.filter(isGood)
// Where chance decides what is found there is no truth to hold a test against.
const faultNames = scenarioNames.filter((name) => !isGood(name) && variations[name]!.expected.verdict !== null)

/** What a learner can be asked to tell apart: the good bench, and each fault whose findings are no matter of chance. */
export const lessonNames: readonly string[] = ['good', ...faultNames]

/** A bench drawn by chance with one of `lessonNames` on it; one in six is good. */
export function lessonScenario(seed: number): Scenario {
  const random = createRandom(seed).fork('lesson')
  const name = random.uniform() < 1 / 6 ? 'good' : random.pick(faultNames)
  return vary(randomGoodBench(random), name)
}

function vary(bench: Scenario, name: string): Scenario {
  const { title, expected, change } = variations[name]!
  return { ...change(bench, ratingOf(bench.part).ratedPa), name, title, expected }
}

// Spans that an honest test still calls good (common practice, no source): half the tolerance at most is used up.
function randomGoodBench(random: Random): Scenario {
  const bench = goodBench(random.pick([0.2, 0.25, 0.25, 0.4, 0.6]))
  const { ratedPa } = ratingOf(bench.part)
  const { truth, plan, rig } = bench
  const makePa = ratedPa * random.between(0.96, 1.04)
  const breakPa = makePa * random.between(0.72, 0.82)
  const intervalMs = random.pick([150, 200, 200, 300])
  const slowPaPerS = random.between(0.013, 0.026) * ratedPa
  const query = { bytes: 'READ?\n', periodMs: intervalMs, replyMs: 1000 }
  return {
    ...bench,
    part: { ...bench.part, serial: String(1000 + Math.floor(random.between(0, 9000))) },
    rig: rig.meter ? { ...rig, meter: { ...rig.meter, options: { command: 'READ?', intervalMs } } } : rig,
    plan: {
      ...plan,
      slowPaPerS: [slowPaPerS, slowPaPerS, random.between(1.5, 2) * slowPaPerS],
      expectedMakePa: makePa,
      expectedBreakPa: breakPa,
      unevenness: random.between(0.03, 0.15),
    },
    truth: {
      ...truth,
      air: { ...truth.air, ballastL: random.between(4, 10) },
      switch: {
        ...truth.switch,
        makePa,
        breakPa,
        scatterPa: random.between(0.1, 0.4),
        contact: { ...truth.switch.contact, ohm: random.between(0.05, 0.6) },
      },
      manometer: {
        ...truth.manometer,
        linePeriodS: random.pick([0.1, 0.1, 0.125, 0.2]),
        deadS: random.between(0.01, 0.1),
        dampingS: random.between(0, 0.25),
        // Well inside the accuracy that the rig file states.
        gainError: random.normal(0.3 / ratedPa),
        offsetPa: random.normal(0.3),
        noisePa: random.between(0.03, 0.12),
      },
      meter: { ...truth.meter, query, delayS: random.between(0.02, 0.12) },
    },
  }
}
