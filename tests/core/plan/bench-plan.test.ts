// The bench worked out again: formulas of air by other ways, numbers of a part of 0.25 inH2O by hand, published leaks.
import { describe, expect, test } from 'vitest'
import { partFileSchema, ratingOf } from '../../../src/core/model/part.ts'
import { pressureUnits } from '../../../src/core/model/units.ts'
import {
  atmospherePa,
  gamma,
  kickPa,
  leakPaM3PerS,
  mlPerMinute,
  needleResistance,
  needleReynolds,
  sealedPaPerK,
  stiffnessPaPerM3,
  strokesTo,
  strokeVacuumPa,
  thermalTimeS,
  ventTimeS,
} from '../../../src/core/plan/air.ts'
import { planBench } from '../../../src/core/plan/bench-plan.ts'
import { leak } from '../../reference/leak.table.ts'
import { expectNear, expectRelative } from '../../reference/near.ts'

const { inH2O } = pressureUnits
const litres = 1e-3

describe('air in a bottle', () => {
  test.each([
    [0.05, 2026.5, 222],
    [0.25, 405.3, 79],
    [1, 101.3, 23],
    [5, 20.27, 4.8],
    [10, 10.13, 2.43],
  ])('of %d L: %d Pa a millilitre and at most %d inH2O by a stroke of 60 mL', (volume, paPerMl, inches) => {
    expectRelative(stiffnessPaPerM3(volume * litres, 0) * 1e-6, paPerMl, 5e-4)
    expectRelative(strokeVacuumPa(volume * litres, 60e-6) / inH2O, inches, 0.01)
  })
  test('the stiffness is the slope of p·V^n, drawn out by a microlitre', () => {
    for (const exponent of [1, gamma]) {
      const step = 1e-9
      const drawn = atmospherePa * (1 - (litres / (litres + step)) ** exponent)
      expectRelative(stiffnessPaPerM3(litres, 0, exponent) * step, drawn, 2e-6)
    }
  })
  test('a diaphragm that gives way softens a small volume most', () => {
    const soft = [0.05, 0.25, 1, 5, 10].map((v) => stiffnessPaPerM3(v * litres, 1.6e-8) / 1e6)
    // 1/(V/P0 + 1.6e-8), by hand.
    for (const [i, expected] of [60.6, 54.1, 38.7, 15.3, 8.72].entries()) expectRelative(soft[i], expected, 2e-3)
  })
  test('strokes with a check valve: each leaves V/(V + Vs) of the pressure', () => {
    for (const [vacuumPa, volume] of [
      [77.8, 5],
      [3000, 5],
      [3000, 1],
      [20_000, 1],
    ] as const) {
      let [count, pressure] = [0, atmospherePa]
      while (atmospherePa - pressure < vacuumPa) {
        pressure *= (volume * litres) / (volume * litres + 60e-6)
        count++
      }
      expect(strokesTo(vacuumPa, volume * litres, 60e-6)).toBe(count)
    }
  })
  test('a jump of 0.1 mm of a plunger of 26.7 mm is 113 Pa bare and 1.1 Pa on 5 L', () => {
    const jumpM3 = (Math.PI / 4) * 0.0267 ** 2 * 1e-4
    expectNear(stiffnessPaPerM3(0.05 * litres, 0) * jumpM3, 113, 0.5)
    expectNear(stiffnessPaPerM3(5 * litres, 0) * jumpM3, 1.1, 0.05)
  })
  test('the kick is what is left when the swept volume has spread over air and diaphragm', () => {
    const [compliance, differentialPa, volume] = [1.6e-8, 12.5, 5 * litres]
    const swept = compliance * differentialPa
    expectRelative(kickPa(differentialPa, compliance, volume), swept * stiffnessPaPerM3(volume, compliance), 1e-12)
    // Without any ballast the whole differential.
    expectRelative(kickPa(differentialPa, compliance, 1e-12), differentialPa, 1e-3)
  })
  test('closed it follows the room by 346 Pa a kelvin', () => {
    expectNear(sealedPaPerK, 346, 0.5)
  })
  test('it takes the temperature of the wall: 20 s at 50 mm, 52 s at 80 mm, 0.05 s in a hose of 4.8 mm', () => {
    expectNear(thermalTimeS(0.05), 20.4, 0.1)
    expectNear(thermalTimeS(0.08), 52.2, 0.2)
    expectNear(thermalTimeS(0.0024), 0.047, 0.001)
  })
})

describe('a needle', () => {
  const resistance = needleResistance(0.26e-3, 12.7e-3)
  test('of 0.26 mm × 12.7 mm empties a litre in 20 s, so 5 L fall at 1 % a second', () => {
    expectNear(ventTimeS(resistance, litres), 20.3, 0.1)
    expectNear(1 / ventTimeS(resistance, 5 * litres), 0.01, 0.0003)
  })
  test('passes what the parabola of Hagen and Poiseuille carries, summed over its rings', () => {
    const [radius, length, viscosity, pressure] = [0.13e-3, 12.7e-3, 1.82e-5, 62.3]
    let flow = 0
    const rings = 2000
    for (let i = 0; i < rings; i++) {
      const r = ((i + 0.5) * radius) / rings
      const speed = (pressure * (radius ** 2 - r ** 2)) / (4 * viscosity * length)
      flow += speed * 2 * Math.PI * r * (radius / rings)
    }
    expectRelative(pressure / resistance, flow, 1e-6)
  })
  test('nine times as long resists nine times as much, and the flow stays laminar', () => {
    expectRelative(needleResistance(0.26e-3, 114.3e-3), 9 * resistance, 1e-12)
    // Mean speed × bore × density over viscosity, with 1.204 kg/m³.
    const speed = 62.3 / resistance / ((Math.PI / 4) * 0.26e-3 ** 2)
    expectRelative(needleReynolds(0.26e-3, resistance, 62.3), (1.204 * speed * 0.26e-3) / 1.82e-5, 1e-3)
    expect(needleReynolds(0.26e-3, resistance, 62.3)).toBeLessThan(100)
  })
})

test('a leak is the vacuum-decay example of 40 CFR 1065.644, and its units are the defined ones', () => {
  const { inputs, expected, tolerance, recomputed } = leak['leak-40cfr1065']
  const flow = leakPaM3PerS(inputs.V_m3, (inputs.p2_Pa - inputs.p1_Pa) / inputs.dt_s)
  expectRelative(flow, recomputed.Pa_m3_per_s, 1e-10)
  const molPerS = flow / (inputs.R * inputs.T1_K)
  expectRelative(molPerS, recomputed.mol_per_s, 1e-12)
  expectNear(molPerS, expected.mol_per_s, tolerance.abs)
  const units = leak['leak-units']
  expectRelative(mlPerMinute(1), units.expected.sccm_per_Pa_m3_s, units.tolerance.rel)
  expectRelative(mlPerMinute(units.expected.Pa_m3_s_per_sccm), 1, units.tolerance.rel)
})

describe('the plan', () => {
  const part = (rated: number, width: number, more: object = {}) =>
    ratingOf(
      partFileSchema.parse({
        kind: 'draft-proving',
        rated: { value: rated, unit: 'inH2O', on: 'make' },
        limits: { make: { low: rated - width, high: rated + width, unit: 'inH2O' } },
        ...more,
      }),
    )
  const plan = planBench(part(0.25, 0.03), 0.5)

  test('for 0.25 ± 0.03 inH2O is a bottle of 5 L, about 3.1 mL to the rated point on it, and a kick of 3.8 Pa', () => {
    expect(plan.chosen?.litres).toBe(5)
    expectNear(plan.chosen!.stiffMl, 3.07, 0.01)
    expectNear(plan.chosen!.softMl, 4.07, 0.01)
    expect(plan.chosen!.strokes).toBe(1)
    // A quarter of 62.3 Pa as differential: 15.57·1.6/(1.6 + 4.935).
    expectNear(plan.chosen!.kickPa, 3.81, 0.01)
    expect(plan.ballasts.map((b) => b.suits)).toEqual([false, false, false, true, true])
  })
  test('its one needle lets the rated point down no faster than the ramp, and raises it as fast from a source bottle', () => {
    const { needle, ratePaPerS } = plan
    const ratedPa = 0.25 * inH2O
    const tau = ventTimeS(needleResistance(0.26e-3, 12.7e-3), 5 * litres, 1.6e-8)
    expect(needle.pieces).toBe(1)
    expectRelative(needle.downPaPerS, ratedPa / tau, 1e-12)
    expect(needle.downPaPerS).toBeLessThanOrEqual(ratePaPerS)
    expectRelative(((needle.sourceFactor - 1) * ratedPa) / tau, ratePaPerS, 1e-12)
  })
  test('for a slow ramp takes as many needles as hold it, and not one more', () => {
    const { needle, ratePaPerS } = planBench(part(0.25, 0.03), 10)
    expect(needle.pieces).toBeGreaterThan(1)
    expect(needle.downPaPerS).toBeLessThanOrEqual(ratePaPerS)
    expect((needle.downPaPerS * needle.pieces) / (needle.pieces - 1)).toBeGreaterThan(ratePaPerS)
  })
  test('its lag, heat and leak stay within their shares', () => {
    const T = 0.03 * inH2O
    expectRelative(plan.lag.allowedUs * plan.ratePaPerS, 0.05 * T, 1e-12)
    expectRelative(plan.lag.perTenthPa * 10, plan.ratePaPerS, 1e-12)
    expectRelative(plan.leak.allowedPaPerS * 60, 0.02 * 0.25 * inH2O, 1e-12)
    // 5 L at 1.245 Pa a minute: 5000 mL × 1.245/101325.
    expectNear(plan.leak.allowedMlPerMin, 0.0614, 0.0002)
  })
  test('a slower meter slows the ramp in proportion, once sampling and not the hand rules', () => {
    const [slow, slower] = [planBench(part(0.25, 0.03), 2), planBench(part(0.25, 0.03), 4)]
    expectRelative(slow.ratePaPerS / slower.ratePaPerS, 2, 1e-12)
    expect(slow.ratePaPerS).toBeLessThan(plan.ratePaPerS)
  })
  test('a finer part needs more air, one for which no bottle is enough says so', () => {
    expect(planBench(part(0.1, 0.02), 0.5).chosen?.litres).toBe(10)
    expect(planBench(part(0.05, 0.006), 0.5).chosen).toBeNull()
  })
  test('a proof pressure that one stroke could pass by half rules a small bottle out', () => {
    const strong = planBench(part(5, 0.6), 0.5).chosen!
    const proof = { proof: { value: 20, unit: 'inH2O' } }
    const guarded = planBench(part(5, 0.6, proof), 0.5).chosen!
    expect([strong.litres, guarded.litres]).toEqual([1, 5])
    expect(guarded.oneStrokePa).toBeLessThanOrEqual(10 * inH2O)
  })
})
