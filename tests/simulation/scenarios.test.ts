import { describe, expect, test } from 'vitest'
import { partFileSchema, ratingOf } from '../../src/core/model/part.ts'
import { rigFileSchema, rigSpecOf } from '../../src/core/model/rig.ts'
import { pressureUnits } from '../../src/core/model/units.ts'
import { Problem } from '../../src/errors.ts'
import { findScenario, randomScenario, scenarioNames } from '../../src/simulation/find-scenario.ts'
import { shortened } from '../../src/simulation/good-bench.ts'
import { type Scenario, truthOf, withPaths } from '../../src/simulation/scenario.ts'

const seeds = Array.from({ length: 200 }, (_, seed) => seed)

function checkConsistent(scenario: Scenario) {
  const { part, rig, truth } = scenario
  expect(partFileSchema.parse(JSON.parse(JSON.stringify(part)))).toEqual(part)
  expect(rigFileSchema.safeParse(JSON.parse(JSON.stringify(rig))).error).toBeUndefined()
  const bench = rigSpecOf(rigFileSchema.parse(rig))
  const { manometer, meter } = truth
  expect(bench.digitPa).toBeCloseTo(manometer.digit * pressureUnits[manometer.unit], 9)
  expect(bench.suctionSign).toBe(manometer.suctionSign)
  expect(bench.leadsOhm).toBe(truth.wiring.leadsOhm)
  if (meter.query)
    expect(rig.meter?.options).toEqual({ command: meter.query.bytes.trimEnd(), intervalMs: meter.query.periodMs })
  // The gauge's own error at the rated point stays inside the accuracy that the rig file states for it.
  const { ratedPa } = ratingOf(part)
  expect(Math.abs(manometer.gainError) * ratedPa).toBeLessThan(bench.accuracy!.fullScalePa)
}

function outside(scenario: Scenario): string[] {
  const { limits } = ratingOf(scenario.part)
  const { makePa, breakPa } = truthOf(scenario)
  if (makePa === null || breakPa === null) return []
  const values = { make: makePa, break: breakPa, differential: makePa - breakPa }
  return (['make', 'break', 'differential'] as const).filter((name) => {
    const limit = limits[name]
    return limit && (values[name] < (limit.lowPa ?? -Infinity) || values[name] > (limit.highPa ?? Infinity))
  })
}

describe.each([...scenarioNames])('scenario %s', (name) => {
  const scenario = findScenario(name, 1)

  test('its part and rig are files a user could write, and say of the instruments what is so', () => {
    checkConsistent(scenario)
    checkConsistent(shortened(scenario))
    expect(scenario.name).toBe(name)
  })

  test('its true values agree with the verdict it expects', () => {
    if (scenario.expected.verdict === 'pass') expect(outside(scenario)).toEqual([])
    if (scenario.expected.findings.some((code) => code === 'off-rating' || code === 'breaks-low'))
      expect(outside(scenario)).not.toEqual([])
  })
})

test('Benches drawn by chance are the same for the same seed, consistent, and good in about half of the cases.', () => {
  let good = 0
  const names = new Set<string>()
  for (const seed of seeds) {
    const scenario = randomScenario(seed)
    expect(randomScenario(seed)).toEqual(scenario)
    checkConsistent(scenario)
    names.add(scenario.name)
    expect(scenario.expected.verdict).not.toBeNull()
    if (scenario.expected.verdict !== 'pass') continue
    expect(outside(scenario)).toEqual([])
    if (scenario.expected.findings.length === 0) good++
  }
  expect(names.size).toBeGreaterThan(20)
  expect(good).toBeGreaterThan(seeds.length * 0.35)
  expect(good).toBeLessThan(seeds.length * 0.65)
})

// Contact path less pressure path, damping included: the definition of the recording format.
test('The true lag is the contact path less the pressure path.', () => {
  const { truth } = findScenario('plugged-line', 1)
  const { lagS, hoseS } = truthOf(findScenario('plugged-line', 1))
  expect(hoseS).toBeCloseTo(3, 9)
  expect(lagS).toBeCloseTo(3 + truth.meter.delayS - truth.manometer.deadS - truth.manometer.dampingS, 12)
})

test('A drifting part is true in the middle of its counted cycles; one that does not move has no true value.', () => {
  const scenario = findScenario('weakening', 1)
  const { makePa, driftPaPerStroke } = scenario.truth.switch
  // Strokes 3 to 12 are counted: 2 to 11 steps of drift, 6.5 in the mean.
  expect(truthOf(scenario).makePa).toBeCloseTo(makePa + 6.5 * driftPaPerStroke, 9)
  expect(truthOf(findScenario('never-makes', 1))).toMatchObject({ makePa: null, breakPa: null })
})

test('Paths can be put into a rig without touching the rest.', () => {
  const scenario = withPaths(findScenario('good', 1), { meter: '/dev/one' })
  expect(scenario.rig.meter?.port).toMatchObject({ path: '/dev/one', baudRate: 9600 })
  expect(scenario.rig.manometer).toEqual(findScenario('good', 1).rig.manometer)
})

test('An unknown name is answered with the known ones.', () => {
  expect(() => findScenario('gone', 1)).toThrow(Problem)
  expect(() => findScenario('toString', 1)).toThrow(/"toString".*good, off-high/)
})
